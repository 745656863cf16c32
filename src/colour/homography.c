/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Square to quadrilateral in closed form (Heckbert 1989). */
#include "colour/homography.h"

#include <math.h>
#include <stddef.h>

/* Twice the signed area of the corner's triangle. */
static double turn(const double corners[8], int at)
{
    const double *a = corners + 2 * ((at + 3) % 4), *b = corners + 2 * at, *c = corners + 2 * ((at + 1) % 4);
    return (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]);
}

static bool convex(const double corners[8])
{
    int left = 0, right = 0;
    for (int i = 0; i < 4; i++) {
        const double area = turn(corners, i);
        left += area < -1e-6;
        right += area > 1e-6;
    }
    return left == 4 || right == 4;
}

bool tdm_homography_make(double width, double height, const double corners[8], tdm_homography *out)
{
    for (int i = 0; i < 8; i++) {
        if (!(fabs(corners[i]) < 1e7))
            return false;
    }
    if (!convex(corners))
        return false;
    const double *c = corners;
    const double dx1 = c[2] - c[4], dx2 = c[6] - c[4], dy1 = c[3] - c[5], dy2 = c[7] - c[5];
    const double sx = c[0] - c[2] + c[4] - c[6], sy = c[1] - c[3] + c[5] - c[7];
    const double area = dx1 * dy2 - dx2 * dy1;
    const double g = (sx * dy2 - dx2 * sy) / area, h = (dx1 * sy - sx * dy1) / area;
    const double m[9] = {(c[2] - c[0] + g * c[2]) / width,
                         (c[6] - c[0] + h * c[6]) / height,
                         c[0],
                         (c[3] - c[1] + g * c[3]) / width,
                         (c[7] - c[1] + h * c[7]) / height,
                         c[1],
                         g / width,
                         h / height,
                         1};
    for (int i = 0; i < 9; i++)
        out->m[i] = m[i];
    return true;
}

void tdm_homography_at(const tdm_homography *map, double u, double v, double *x, double *y)
{
    const double *m = map->m;
    const double w = m[6] * u + m[7] * v + m[8];
    *x = (m[0] * u + m[1] * v + m[2]) / w;
    *y = (m[3] * u + m[4] * v + m[5]) / w;
}

bool tdm_corners_mirrored(const double corners[8])
{
    double area = 0; /* twice, y downwards */
    for (size_t i = 0; i < 4; i++) {
        const double *here = corners + 2 * i, *next = corners + 2 * ((i + 1) % 4);
        area += here[0] * next[1] - next[0] * here[1];
    }
    return area < 0;
}
