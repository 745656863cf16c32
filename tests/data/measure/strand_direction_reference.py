# SPDX-License-Identifier: GPL-3.0-or-later
"""Makes tensor_reference.csv and strand_direction_reference.csv beside it.

The structure tensor by scikit-image: feature.structure_tensor (Sobel's derivatives, Gaussian means, order "rc": rows
run along the hair, columns across) and structure_tensor_eigenvalues; the eigenvector by numpy. Debian 12:
python3-skimage 0.19.3, python3-scipy 1.10.1, python3-numpy 1.24.2. Run once:
/usr/bin/python3 strand_direction_reference.py
"""
import numpy as np
from scipy import ndimage
from skimage.feature import structure_tensor, structure_tensor_eigenvalues

CELL = 0.25  # mm


def picture(name):
    """L* of strands drawn by formula; the test draws the same."""
    s, t = np.meshgrid((np.arange(480) + 0.5) * CELL, (np.arange(240) + 0.5) * CELL, indexing="ij")
    if name == "wave":
        u = t - 6 * np.sin(2 * np.pi * s / 70)
    elif name == "fan":
        u = (t - 30) / (1 + s / 100)
    else:  # "crossing": finer strands at one angle over broader ones at another
        return 35 + 8 * np.sin(2 * np.pi * (t - 0.3 * s) / 5) + 2 * np.sin(2 * np.pi * (t + 0.2 * s) / 2.5)
    return 35 + 6 * np.sin(2 * np.pi * u / 4) + 3 * np.sin(2 * np.pi * u / 2.3 + 1)


def tensors(name):
    lightness = ndimage.gaussian_filter(picture(name), 0.3 / CELL)
    return structure_tensor(lightness, sigma=3 / CELL, order="rc")


def read(along, both, across):
    """Slope and coherence of one place."""
    _, vectors = np.linalg.eigh([[along, both], [both, across]])
    strand = vectors[:, 0]  # least change
    most, least = (float(v) for v in structure_tensor_eigenvalues(np.array([[[along]], [[both]], [[across]]])))
    return strand[1] / strand[0], (most - least) / (most + least)


def main():
    with open("strand_direction_reference.csv", "w") as out, open("tensor_reference.csv", "w") as plain:
        out.write("# Made by strand_direction_reference.py, which says how: scikit-image 0.19.3. Slope across per along.\n"
                  "picture,s_mm,t_mm,slope\n")
        plain.write("# Made by strand_direction_reference.py, which says how: eigenvalues by scikit-image 0.19.3,\n"
                    "# eigenvector by numpy 1.24.2.\nss,st,tt,slope,coherence\n")
        for name in ("wave", "fan", "crossing"):
            ss, st, tt = tensors(name)
            for i in range(50, 440, 52):
                for j in (50, 90, 122, 154, 190):
                    slope, coherence = read(ss[i, j], st[i, j], tt[i, j])
                    out.write("%s,%g,%g,%.5f\n" % (name, (i + 0.5) * CELL, (j + 0.5) * CELL, slope))
                    if j == 90:
                        plain.write("%.8g,%.8g,%.8g,%.6f,%.6f\n" % (ss[i, j], st[i, j], tt[i, j], slope, coherence))


if __name__ == "__main__":
    main()
