# SPDX-License-Identifier: GPL-3.0-or-later
"""Makes mixture_values.csv and mixture_reference.csv beside it.

Made-up values, and one, two and three normal parts with one common variance in them as scikit-learn finds them:
GaussianMixture(covariance_type="tied"), the likeliest of 20 starts, run to a standstill. Debian 12: python3-sklearn
1.2.1, python3-numpy 1.24.2. Run once: /usr/bin/python3 mixture_reference.py
"""
import numpy as np
from sklearn.mixture import GaussianMixture

SETS = {  # means, sd, how many of each
    "one": ([0], 2, [200]),
    "two": ([-4, 5], 2, [140, 60]),
    "two_close": ([0, 3], 1.2, [120, 120]),
    "three": ([-6, 0, 8], 1.3, [100, 70, 60]),
    "three_close": ([-5, 0, 4.5], 1.5, [90, 90, 90]),
    "three_rare": ([-6, 1, 9], 1.5, [180, 100, 12]),
}


def main():
    random = np.random.default_rng(7)
    values_file = open("mixture_values.csv", "w")
    found_file = open("mixture_reference.csv", "w")
    values_file.write("# Made by mixture_reference.py, which says how. Invented values.\nset,value\n")
    found_file.write("# Made by mixture_reference.py, which says how: scikit-learn 1.2.1. What a part doesn't have is 0.\n"
                     "set,parts,mean1,mean2,mean3,share1,share2,share3,sd,log_likelihood,bic\n")
    for name, (means, sd, counts) in SETS.items():
        values = np.round(np.concatenate([random.normal(m, sd, n) for m, n in zip(means, counts)]), 2)
        for value in values:
            values_file.write("%s,%g\n" % (name, value))
        x = values[:, None]
        for parts in (1, 2, 3):
            kind = dict(covariance_type="tied", reg_covar=0)
            rough = GaussianMixture(parts, tol=1e-6, max_iter=500, n_init=20, random_state=1, **kind).fit(x)
            fit = GaussianMixture(parts, tol=1e-12, max_iter=5000, weights_init=rough.weights_,
                                  means_init=rough.means_, precisions_init=rough.precisions_, **kind).fit(x)
            order = np.argsort(fit.means_[:, 0])
            pad = [0] * (3 - parts)
            row = list(fit.means_[order, 0]) + pad + list(fit.weights_[order]) + pad
            row += [np.sqrt(fit.covariances_[0, 0]), fit.score(x) * len(x), fit.bic(x)]
            found_file.write("%s,%d,%s\n" % (name, parts, ",".join("%.6f" % v for v in row)))


if __name__ == "__main__":
    main()
