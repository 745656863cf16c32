/* SPDX-License-Identifier: GPL-3.0-or-later */
/* CIEDE2000 (CIE 11664-6). */
#include <math.h>

#include "scene.h"

static const double degree = 3.14159265358979323846 / 180.0;

static double hue(double a, double b)
{
    if (a == 0 && b == 0)
        return 0;
    const double h = atan2(b, a) / degree;
    return h < 0 ? h + 360 : h;
}

static double mean_hue(double h1, double h2, double chroma_product)
{
    if (chroma_product == 0)
        return h1 + h2;
    if (fabs(h1 - h2) <= 180)
        return (h1 + h2) / 2;
    return h1 + h2 < 360 ? (h1 + h2 + 360) / 2 : (h1 + h2 - 360) / 2;
}

static double root7(double c)
{
    return sqrt(pow(c, 7) / (pow(c, 7) + pow(25, 7)));
}

double scn_de00(scn_lab p, scn_lab q)
{
    const double mean_c = (hypot(p.v[1], p.v[2]) + hypot(q.v[1], q.v[2])) / 2;
    const double g = 0.5 * (1 - root7(mean_c)), a1 = p.v[1] * (1 + g), a2 = q.v[1] * (1 + g);
    const double c1 = hypot(a1, p.v[2]), c2 = hypot(a2, q.v[2]);
    const double h1 = hue(a1, p.v[2]), h2 = hue(a2, q.v[2]);
    double dh = c1 * c2 == 0 ? 0 : h2 - h1;
    dh += dh > 180 ? -360 : dh < -180 ? 360 : 0;
    const double d_l = q.v[0] - p.v[0], d_c = c2 - c1, d_h = 2 * sqrt(c1 * c2) * sin(dh / 2 * degree);
    const double l = (p.v[0] + q.v[0]) / 2, c = (c1 + c2) / 2, h = mean_hue(h1, h2, c1 * c2);
    const double t = 1 - 0.17 * cos((h - 30) * degree) + 0.24 * cos(2 * h * degree) +
                     0.32 * cos((3 * h + 6) * degree) - 0.20 * cos((4 * h - 63) * degree);
    const double sl = 1 + 0.015 * (l - 50) * (l - 50) / sqrt(20 + (l - 50) * (l - 50));
    const double sc = 1 + 0.045 * c, sh = 1 + 0.015 * c * t;
    const double turn = 30 * exp(-((h - 275) / 25) * ((h - 275) / 25));
    const double rt = -2 * root7(c) * sin(2 * turn * degree);
    const double x = d_l / sl, y = d_c / sc, z = d_h / sh;
    return sqrt(fmax(0, x * x + y * y + z * z + rt * y * z));
}
