/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A straight line, or a gentle curve, through a line's places across the zone. */
#ifndef TDM_MEASURE_STAGGER_H
#define TDM_MEASURE_STAGGER_H

#include <stdbool.h>
#include <stddef.h>

typedef struct tdm_stagger_fit {
    size_t terms;          /* 2 straight, 3 curved */
    double coefficient[3]; /* of powers of across / unit */
    double unit;
    double slope, slope_u; /* of the straight line, with its standard uncertainty */
} tdm_stagger_fit;

/* Places given at `across` in rising order, and their residuals from the fit. False where there is no fit, or
 * no memory for it. */
bool tdm_stagger(const double *across, const double *centre, size_t count, double *residual,
                 tdm_stagger_fit *out);

/* How far a curve departs from its chord between two places across, signed (below 0: its middle lies further
 * down than its ends); 0 for a straight line. */
double tdm_stagger_sagitta(const tdm_stagger_fit *fit, double from, double to);

double tdm_stagger_at(const tdm_stagger_fit *fit, double across);

#endif
