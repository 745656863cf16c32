/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Row-major 3x3 matrices. */
#ifndef TDM_COLOUR_MATRIX_H
#define TDM_COLOUR_MATRIX_H

#include <stdbool.h>

void tdm_matrix_apply(const double m[9], const double in[3], double out[3]); /* out may be in */
void tdm_matrix_multiply(const double a[9], const double b[9], double out[9]);
/* False where the matrix is singular (or nearly: 1e-9 of its size) or not finite. */
bool tdm_matrix_invert(const double m[9], double out[9]);

#endif
