/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "colour/monotone.h"

#include <math.h>

static double secant(const double *x, const double *y, int i)
{
    return (y[i + 1] - y[i]) / (x[i + 1] - x[i]);
}

/* Slope at knot i of the parabola through knots a, a + 1, a + 2. */
static double parabola(const double *x, const double *y, int a, int i)
{
    const double left = secant(x, y, a), right = secant(x, y, a + 1);
    const double bend = (right - left) / (x[a + 2] - x[a]);
    return left + bend * (2 * x[i] - x[a] - x[a + 1]);
}

/* Draws a pair of slopes into the circle of radius 3 within which the piece is monotone. */
static void limit(double chord, double *one, double *two)
{
    if (chord <= 0) {
        *one = *two = 0;
        return;
    }
    const double a = fmax(*one, 0) / chord, b = fmax(*two, 0) / chord;
    const double radius = hypot(a, b);
    const double shrink = radius > 3 ? 3 / radius : 1;
    *one = a * shrink * chord;
    *two = b * shrink * chord;
}

void tdm_monotone_slopes(const double *x, const double *y, int count, double *slope)
{
    if (count == 2) {
        slope[0] = slope[1] = secant(x, y, 0);
        return;
    }
    for (int i = 0; i < count; i++) {
        const int first = i == 0 ? 0 : (i == count - 1 ? count - 3 : i - 1);
        slope[i] = parabola(x, y, first, i);
    }
    for (int i = 0; i + 1 < count; i++)
        limit(secant(x, y, i), &slope[i], &slope[i + 1]);
}

double tdm_monotone_at(const double *x, const double *y, const double *slope, int count, double at)
{
    int i = 0;
    while (i + 2 < count && at > x[i + 1])
        i++;
    const double step = x[i + 1] - x[i];
    const double t = (at - x[i]) / step;
    const double t2 = t * t, t3 = t2 * t;
    return (2 * t3 - 3 * t2 + 1) * y[i] + (t3 - 2 * t2 + t) * step * slope[i] + (3 * t2 - 2 * t3) * y[i + 1] +
           (t3 - t2) * step * slope[i + 1];
}
