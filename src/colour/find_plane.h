/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The projective map of the lattice into the picture, by least squares. A patch's middle is at whole numbers
 * of columns and rows. */
#ifndef TDM_COLOUR_FIND_PLANE_H
#define TDM_COLOUR_FIND_PLANE_H

#include <stdbool.h>
#include <stddef.h>

#include "colour/homography.h"

typedef struct tdm_find_pair {
    double u, v; /* column and row */
    double x, y; /* place */
    double weight;
} tdm_find_pair;

/* Algebraic least squares, affine where there are fewer than `projective_from` pairs; at least three. False
 * where the pairs don't settle it. */
bool tdm_find_plane_fit(const tdm_find_pair *pairs, size_t count, size_t projective_from,
                        tdm_homography *out);

/* Solves a x = b, a symmetric positive definite of n <= 16 rows (row-major, changed), x in b. False where it
 * isn't. */
bool tdm_find_solve(double *a, double *b, size_t n);

#endif
