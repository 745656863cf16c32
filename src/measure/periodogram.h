/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lomb's (1976) and Scargle's (1982) periodogram. */
#ifndef TDM_MEASURE_PERIODOGRAM_H
#define TDM_MEASURE_PERIODOGRAM_H

#include <stddef.h>

/* Least squares of a mean, a cosine and a sine: the share of the variance of values at places `across` that
 * they hold at this frequency, and their amplitude (NULL is allowed). */
double tdm_wave_share(const double *across, const double *values, size_t count, double mean, double frequency,
                      double *amplitude);

/* That the strongest of so many independent frequencies holds such a share of `count` independent values by
 * chance (Scargle 1982; the distribution of a share of a known total is that of Baluev 2008). */
double tdm_wave_chance(double share, double count, double frequencies);

#endif
