/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "colour/find_plane.h"

#include <math.h>
#include <string.h>

/* Cholesky in place. */
bool tdm_find_solve(double *a, double *b, size_t n)
{
    for (size_t j = 0; j < n; j++) {
        const double size = a[j * n + j];
        for (size_t k = 0; k < j; k++)
            a[j * n + j] -= a[j * n + k] * a[j * n + k];
        if (!(a[j * n + j] > 1e-12 * size))
            return false;
        a[j * n + j] = sqrt(a[j * n + j]);
        for (size_t i = j + 1; i < n; i++) {
            for (size_t k = 0; k < j; k++)
                a[i * n + j] -= a[i * n + k] * a[j * n + k];
            a[i * n + j] /= a[j * n + j];
        }
    }
    for (size_t i = 0; i < n; i++) {
        for (size_t k = 0; k < i; k++)
            b[i] -= a[i * n + k] * b[k];
        b[i] /= a[i * n + i];
    }
    for (size_t i = n; i-- > 0;) {
        for (size_t k = i + 1; k < n; k++)
            b[i] -= a[k * n + i] * b[k];
        b[i] /= a[i * n + i];
    }
    return true;
}

/* Middle and spread, to bring the numbers of both sides near 1. */
typedef struct frame {
    double u, v, x, y, lattice, picture;
} frame;

static frame frame_of(const tdm_find_pair *pairs, size_t count)
{
    frame f = {0};
    for (size_t i = 0; i < count; i++) {
        f.u += pairs[i].u / (double)count;
        f.v += pairs[i].v / (double)count;
        f.x += pairs[i].x / (double)count;
        f.y += pairs[i].y / (double)count;
    }
    for (size_t i = 0; i < count; i++) {
        f.lattice += hypot(pairs[i].u - f.u, pairs[i].v - f.v) / (double)count;
        f.picture += hypot(pairs[i].x - f.x, pairs[i].y - f.y) / (double)count;
    }
    return f;
}

static void add_row(const double *row, double wanted, double weight, size_t n, double *a, double *b)
{
    for (size_t i = 0; i < n; i++) {
        for (size_t k = 0; k <= i; k++)
            a[i * n + k] += weight * row[i] * row[k];
        b[i] += weight * row[i] * wanted;
    }
}

static void compose(const frame *f, const double h[8], tdm_homography *out)
{
    const double s = f->picture, l = f->lattice;
    const double m[9] = {s * h[0] + f->x * h[6],
                         s * h[1] + f->x * h[7],
                         s * h[2] + f->x,
                         s * h[3] + f->y * h[6],
                         s * h[4] + f->y * h[7],
                         s * h[5] + f->y,
                         h[6],
                         h[7],
                         1};
    for (int i = 0; i < 3; i++) {
        out->m[3 * i] = m[3 * i] / l;
        out->m[3 * i + 1] = m[3 * i + 1] / l;
        out->m[3 * i + 2] = m[3 * i + 2] - (m[3 * i] * f->u + m[3 * i + 1] * f->v) / l;
    }
}

bool tdm_find_plane_fit(const tdm_find_pair *pairs, size_t count, size_t projective_from, tdm_homography *out)
{
    const size_t n = count >= projective_from ? 8 : 6;
    const frame f = frame_of(pairs, count);
    double a[64] = {0}, b[8] = {0};
    if (count < 3 || !(f.lattice > 0) || !(f.picture > 0))
        return false;
    for (size_t i = 0; i < count; i++) {
        const double u = (pairs[i].u - f.u) / f.lattice, v = (pairs[i].v - f.v) / f.lattice;
        const double x = (pairs[i].x - f.x) / f.picture, y = (pairs[i].y - f.y) / f.picture;
        const double first[8] = {u, v, 1, 0, 0, 0, -u * x, -v * x};
        const double second[8] = {0, 0, 0, u, v, 1, -u * y, -v * y};
        add_row(first, x, pairs[i].weight, n, a, b);
        add_row(second, y, pairs[i].weight, n, a, b);
    }
    if (!tdm_find_solve(a, b, n))
        return false;
    compose(&f, b, out);
    return isfinite(out->m[0]) && out->m[8] != 0;
}
