/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Order statistics and uncertainties from resamples. */
#ifndef TDM_MEASURE_SPREAD_H
#define TDM_MEASURE_SPREAD_H

#include <stddef.h>

/* Half of the range between the 2.5 % and 97.5 % quantiles: an expanded uncertainty that a few runaway
 * resamples don't spoil (JCGM 101:2008, 7.7). NaN for fewer than 20 values. Sorts values. */
double tdm_half_range(double *values, size_t count);

/* Quantile q (0 to 1), linear between order statistics; NaN for none. Sorts values. */
double tdm_quantile(double *values, size_t count, double q);

/* 1.4826 times the median absolute deviation from the median. Sorts and overwrites values. */
double tdm_robust_sd(double *values, size_t count);

/* Square root of the sum of squares. */
double tdm_quadrature(double a, double b);

#endif
