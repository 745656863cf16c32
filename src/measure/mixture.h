/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Two normal populations in weighted values: the two-part face of normals.h (Dempster, Laird and Rubin
 * 1977). */
#ifndef TDM_MEASURE_MIXTURE_H
#define TDM_MEASURE_MIXTURE_H

#include <stdbool.h>
#include <stddef.h>

#include "measure/normals.h"

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

/* The likeliest two parts, from starts of its own; false where one part explains the values as well, or the
 * two break the limits. */
bool tdm_mixture_choose(const tdm_weighted *of, const tdm_normals_limits *limits, tdm_mixture *out);

/* Ashman, Bird and Zepf (1994): distance of the means in units of the parts' root mean square sd; above 2 for
 * a clean separation. */
double tdm_mixture_separation(const tdm_mixture *mixture);

#endif
