# SPDX-License-Identifier: GPL-3.0-or-later
"""Makes scielab_pattern.csv and scielab_dprime.csv beside it.

S-CIELAB and the visibility of a line written a second time, from the papers and METHODS.md and without the
library: dense matrices in double precision, on a finer grid, nothing decimated. numpy 1.24,
scipy 1.10. Run once: python3 scielab_reference.py
"""
import numpy as np
from scipy.special import ndtr

MATRIX = np.array([[0.2787336, 0.7218031, -0.1065520], [-0.4487736, 0.2898056, 0.0771569],
                   [0.0859513, -0.5899859, 0.5011089]])
BRADFORD = np.array([[0.8951, 0.2664, -0.1614], [-0.7502, 1.7135, 0.0367], [0.0389, -0.0685, 1.0296]])
D50, D65 = np.array([0.9642, 1, 0.8249]), np.array([0.95047, 1, 1.08883])
TO = MATRIX @ np.linalg.inv(BRADFORD) @ np.diag((BRADFORD @ D65) / (BRADFORD @ D50)) @ BRADFORD
TERMS = [[(0.921, 0.0283), (0.105, 0.133), (-0.108, 4.336)], [(0.531, 0.0392), (0.330, 0.494)],
         [(0.488, 0.0536), (0.371, 0.386)]]


def to_xyz(lab):
    fy = (lab[..., 0] + 16) / 116
    f = np.stack([fy + lab[..., 1] / 500, fy, fy - lab[..., 2] / 200], -1)
    return np.where(f > 6 / 29, f**3, 3 * (6 / 29)**2 * (f - 4 / 29)) * D50


def to_lab(xyz):
    r = xyz / D50
    f = np.where(r > (6 / 29)**3, np.cbrt(r), r / (3 * (6 / 29)**2) + 4 / 29)
    return np.stack([116 * f[..., 1] - 16, 500 * (f[..., 0] - f[..., 1]), 200 * (f[..., 1] - f[..., 2])], -1)


def see(xyz, use, s, t, out_s, out_t, distance):
    degree = 2000 * distance * np.tan(np.pi / 360)
    opp = xyz @ TO.T
    seen = []
    for plane, terms in enumerate(TERMS):
        total = sum(w for w, _ in terms)
        value = 0
        for weight, spread in terms:
            across = lambda o, i: np.exp(-(((o[:, None] - i[None, :]) / (spread * degree))**2))
            a, b = across(out_s, s), across(out_t, t)
            shares = a @ use @ b.T if use is not None else np.outer(a.sum(1), b.sum(1))
            values = opp[..., plane] if use is None else opp[..., plane] * use
            value = value + weight / total * (a @ values @ b.T) / shares
        seen.append(value)
    return to_lab(np.stack(seen, -1) @ np.linalg.inv(TO).T)


def pattern(s, t):
    s, t = np.meshgrid(s, t, indexing="ij")
    l = 40 + 15 * ndtr((s - 18) / 2) + 6 * np.sin(2 * np.pi * t / 2.6)
    lab = np.stack([l, 5 + 8 * np.cos(2 * np.pi * s / 9), 12 + 10 * np.sin(2 * np.pi * (s + t) / 6)], -1)
    use = ~(((s > 8) & (s < 14) & (t > 5) & (t < 9)) | (t < 1.5))
    return to_xyz(lab), use.astype(float)


def write_pattern():
    fine_s, fine_t = (np.arange(800) + 0.5) * 0.05, (np.arange(400) + 0.5) * 0.05
    xyz, use = pattern(fine_s, fine_t)
    with open("scielab_pattern.csv", "w") as out:
        out.write("# Made by scielab_reference.py, which says how. A strip of 40 by 20 mm as its pattern() has it,\n"
                  "# seen from a distance: CIELAB D50 at places s along and t across, in mm.\n"
                  "distance_m,s_mm,t_mm,l,a,b\n")
        for distance, cell in ((0.3, 0.25), (0.6, 0.25), (1.2, 0.5), (3.0, 1.25)):
            n, m = round(40 / cell), round(20 / cell)
            out_s = (np.array([0, n // 5, n // 3, n // 2 - 2, n // 2, 2 * n // 3, n - 1]) + 0.5) * cell
            out_t = (np.array([m // 10 + 1, m // 2 + 2, 3 * m // 4, m - 1]) + 0.5) * cell
            lab = see(xyz, use, fine_s, fine_t, out_s, out_t, distance)
            for i, s in enumerate(out_s):
                for j, t in enumerate(out_t):
                    if 8 < s < 14 and 5 < t < 9:
                        continue
                    out.write("%g,%g,%g,%.4f,%.4f,%.4f\n" % (distance, s, t, *lab[i, j]))


LOCKS = [0.9, -1.3, 0.2, 1.6, -0.5, -0.9, 0.4, -1.7, 1.1, 0.0, -0.3, 0.7, -1.0, 1.3, -0.6, 0.1]
STRANDS = [0.3, -1.1, 1.4, -0.2, 0.8, -1.5, 0.6, -0.7, 1.2, -0.4, 0.1, -0.9, 1.0, -1.2, 0.5, 0.2]


def line_strip(s, t, step, width, stagger, texture):
    s, t = np.meshgrid(s, t, indexing="ij")
    locks = np.array(LOCKS)[np.minimum(t // 5, 15).astype(int)]
    strands = np.array(STRANDS)[(t // 2.5).astype(int) % 16]
    part = ndtr((s - 100 - stagger * locks) / (width / 2.5631031310892007))
    return to_xyz(np.stack([35 + step * part + texture * strands, 6 * part, 9 * part], -1))


def dprime(step, width, stagger, texture, distance):
    s, t = (np.arange(800) + 0.5) * 0.25, (np.arange(640) + 0.5) * 0.125
    xyz = line_strip(s, t, step, width, stagger, texture)
    lab = see(xyz, None, s, t, s, (np.arange(320) + 0.5) * 0.25, distance)
    half = 1000 * distance * np.tan(np.pi / 360)
    sigma = np.hypot(width / 2.5631, stagger * np.std(LOCKS))
    overall = 2.5631 * sigma
    rows, best = round(half / 0.25), 0
    clear = [int(round((100 - 1.5 * overall) / 0.25)), int(round((100 + 1.5 * overall) / 0.25))]
    reach = max(0.5 * overall, half)
    for middle in range(1, 800):
        if abs(middle * 0.25 - 100) > reach:
            continue
        first, past = max(middle - rows, 0), min(middle + rows, 800)
        if min(middle - first, past - middle) < 0.25 * rows:
            continue
        change = lab[middle:past].mean((0, 1)) - lab[first:middle].mean((0, 1))
        size = np.linalg.norm(change)
        upper = max(min(middle, clear[0]) - (middle - first), 0)
        lower = min(max(middle, clear[1]), 800 - (past - middle))
        places = lab @ (change / size)
        both = [places[upper:upper + middle - first], places[lower:lower + past - middle]]
        within = [((p - p.mean(1, keepdims=True))**2).sum() / (p.shape[0] * (p.shape[1] - 1)) for p in both]
        best = max(best, size / max(np.sqrt(np.mean(within)), 2.3))
    return best


def write_dprime():
    with open("scielab_dprime.csv", "w") as out:
        out.write("# Made by scielab_reference.py, which says how: the d' of lines on strips of 200 by 80 mm as its\n"
                  "# line_strip() has them. step: L*; width and stagger: mm; texture: L*, of strands 2.5 mm wide.\n"
                  "step,width,stagger,texture,distance_m,dprime\n")
        for case in ((9.2, 0.5, 0, 0), (20, 3, 0, 4), (20, 30, 0, 4), (12, 15, 8, 1), (25, 3, 15, 6)):
            for distance in (0.6, 1.2, 3.0):
                out.write("%g,%g,%g,%g,%g,%.4f\n" % (*case, distance, dprime(*case, distance)))
                out.flush()


if __name__ == "__main__":
    write_pattern()
    write_dprime()
