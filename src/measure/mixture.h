/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Two normal populations in weighted values: the two-part face of normals.h (Dempster, Laird and Rubin
 * 1977). */
#ifndef TDM_MEASURE_MIXTURE_H
#define TDM_MEASURE_MIXTURE_H

#include <stdbool.h>
#include <stddef.h>

typedef struct tdm_mixture {
    double mean[2]; /* lower first */
    double sd;      /* of both */
    double share;   /* of the higher one */
    double log_likelihood;
} tdm_mixture;

/* Two parts from a start; sd is held above least_sd. False where a part dies out or fewer than 2 values have
 * weight. */
bool tdm_mixture_fit(const double *values, const double *weights, size_t count, double least_sd,
                     const tdm_mixture *start, tdm_mixture *out);

/* A start by Otsu's threshold (1979) on the values, which need not be sorted: the cut that leaves least
 * variance. */
bool tdm_mixture_start(const double *values, const double *weights, size_t count, double least_sd,
                       tdm_mixture *out);

/* Log-likelihood of one normal part. */
double tdm_single_log_likelihood(const double *values, const double *weights, size_t count, double least_sd);

/* Probability that a value belongs to the higher part. */
double tdm_mixture_posterior(const tdm_mixture *mixture, double value);

/* Ashman, Bird and Zepf (1994): distance of the means in units of the parts' root mean square sd; above 2 for
 * a clean separation. */
double tdm_mixture_separation(const tdm_mixture *mixture);

#endif
