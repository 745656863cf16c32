# SPDX-License-Identifier: GPL-3.0-or-later
"""Makes runs_reference.csv and periodogram_reference.csv beside it.

Invented rows of light (1) and dark (0) columns of 0.25 mm, and one with columns that can't be seen (x). Runs by
statsmodels.sandbox.stats.runs.Runs, standard deviation over mean by scipy.stats.variation, shares of the variance by
scipy.signal.lombscargle (normalize=True, values less their mean). Debian 12: python3-statsmodels 0.13.5, python3-scipy
1.10.1, python3-numpy 1.24.2. Run once: /usr/bin/python3 runs_reference.py
"""
import numpy as np
from scipy.signal import lombscargle
from scipy.stats import variation
from statsmodels.sandbox.stats.runs import Runs

CELL = 0.25
random = np.random.default_rng(5)


def row(gaps, widths):
    return np.concatenate([np.repeat([0, 1], [g, w]) for g, w in zip(gaps, widths)] + [np.zeros(9, int)])


def rows():
    yield "regular", row([15] * 14, [9] * 14)
    yield "nearly", row(15 + random.integers(-2, 3, 14), 9 + random.integers(-1, 2, 14))
    yield "random", row(2 + np.floor(random.exponential(13, 16)).astype(int), 3 + random.integers(0, 9, 16))
    yield "fine", row(3 + random.integers(0, 5, 40), 2 + random.integers(0, 3, 40))


def strongest(columns):
    place = (np.arange(len(columns)) + 0.5) * CELL
    frequencies = np.arange(3 / (CELL * len(columns)), 1 / 1.5, 2e-5)
    shares = lombscargle(place, columns - columns.mean(), 2 * np.pi * frequencies, normalize=True)
    return 1 / frequencies[np.argmax(shares)]


def main():
    with open("runs_reference.csv", "w") as out, open("periodogram_reference.csv", "w") as waves:
        out.write("# Made by runs_reference.py, which says how: statsmodels 0.13.5, scipy 1.10.1. Of the light runs: number,\n"
                  "# mean width, mean and standard deviation (n - 1) over mean of the distances of neighbours' middles; and the\n"
                  "# period whose wave holds most, of those of 1.5 mm to a third of the width; mm.\n"
                  "row,columns,runs,width,spacing,spacing_cv,period\n")
        waves.write("# Made by runs_reference.py, which says how: scipy 1.10.1. Share of the variance at a frequency, 1/mm.\n"
                    "row,columns,frequency,share\n")
        for name, columns in rows():
            text = "".join(map(str, columns))
            found = Runs(columns)
            starts, lengths = found.runstart[:-1], found.runs
            light = columns[starts] == 1
            middles = (starts + lengths / 2)[light] * CELL
            spacings = np.diff(middles)
            out.write("%s,%s,%d,%.6f,%.6f,%.6f,%.4f\n" % (name, text, light.sum(), lengths[light].mean() * CELL,
                                                    spacings.mean(), variation(spacings, ddof=1), strongest(columns)))
            seen = np.ones(len(columns), bool)
            if name == "random":
                seen[40:60] = seen[100:103] = False
                text = "".join(c if s else "x" for c, s in zip(text, seen))
            place = ((np.arange(len(columns)) + 0.5) * CELL)[seen]
            value = columns[seen] - columns[seen].mean()
            for frequency in (0.05, 0.0833, 0.12, 0.1667, 0.21, 0.495):
                share = lombscargle(place, value, [2 * np.pi * frequency], normalize=True)[0]
                waves.write("%s,%s,%.6f,%.6f\n" % (name, text, frequency, share))


if __name__ == "__main__":
    main()
