/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Monotone piecewise cubic through rising points (Fritsch and Carlson 1980). */
#ifndef TDM_COLOUR_MONOTONE_H
#define TDM_COLOUR_MONOTONE_H

/* x rises strictly, y doesn't fall; count at least 2. Fills the slopes at the knots. */
void tdm_monotone_slopes(const double *x, const double *y, int count, double *slope);

/* x inside [first knot, last knot]. */
double tdm_monotone_at(const double *x, const double *y, const double *slope, int count, double at);

#endif
