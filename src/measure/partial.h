/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Two populations where a place may hold some of both: the partial-volume mixture of Santago and Gage (1993).
 * Pure dark, pure light, and mixed places in which every proportion is as likely; all with one standard
 * deviation. */
#ifndef TDM_MEASURE_PARTIAL_H
#define TDM_MEASURE_PARTIAL_H

#include "measure/mixture.h"

typedef struct tdm_partial {
    double mean[2];   /* pure dark, pure light */
    double sd;        /* of all */
    double weight[3]; /* pure dark, mixed, pure light; sum 1 */
} tdm_partial;

tdm_partial tdm_partial_start(const tdm_mixture *mixture);

/* Expectation-maximisation for at most `rounds` from *start. sd is held above least_sd. False, and *out
 * untouched, where the two pure means fall together. */
bool tdm_partial_fit(const double *values, const double *weights, size_t count, double least_sd, int rounds,
                     const tdm_partial *start, tdm_partial *out);

/* Light hair's share of everything: all of the pure light places and half of the mixed ones. */
double tdm_partial_share(const tdm_partial *partial);

#endif
