/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TDM_MEASURE_STAGGER_H
#define TDM_MEASURE_STAGGER_H

#include <stdbool.h>
#include <stddef.h>

/* Residuals of a line's places, given at `across` in rising order, from a straight line (*terms 2) or a
 * gentle curve (3). False where there is no fit, or no memory for it. */
bool tdm_stagger(const double *across, const double *centre, size_t count, double *residual, size_t *terms);

#endif
