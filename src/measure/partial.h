/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Two populations where a place may hold some of both: a partial-volume mixture after Santago and Gage
 * (1993). Pure dark, pure light, and mixed places whose proportions are likelier towards one side; all with
 * one standard deviation. */
#ifndef TDM_MEASURE_PARTIAL_H
#define TDM_MEASURE_PARTIAL_H

#include "measure/mixture.h"

/* Mixed places as so many proportions between the pure ones at either end. */
enum { TDM_PARTIAL_MIXED = 5, TDM_PARTIAL_ALL = TDM_PARTIAL_MIXED + 2 };

typedef struct tdm_partial {
    double mean[2];   /* pure dark, pure light */
    double sd;        /* of all */
    double weight[3]; /* pure dark, mixed, pure light; sum 1 */
    double tilt;      /* mixed places of proportion f are as likely as exp(tilt f); within 4 either way */
    /* Where a proportion's value lies between the pure means, rising from 0 to 1: a proportion of light is
     * not one of lightness. */
    double place[TDM_PARTIAL_ALL];
} tdm_partial;

/* Proportion of light hair of each component: 0, mixed ones, 1. */
double tdm_partial_light(size_t component);

/* With places in proportion. */
tdm_partial tdm_partial_start(const tdm_mixture *mixture);

/* Expectation-maximisation for at most `rounds` from *start. sd is held above least_sd. False, and *out
 * untouched, where the two pure means fall together. */
bool tdm_partial_fit(const double *values, const double *weights, size_t count, double least_sd, int rounds,
                     const tdm_partial *start, tdm_partial *out);

/* Light hair's share of everything. */
double tdm_partial_share(const tdm_partial *partial);

/* Expected proportion of light hair at a place of this value. */
double tdm_partial_expect(const tdm_partial *partial, double value);

/* Of all values, each as often as its weight. */
double tdm_partial_log_likelihood(const double *values, const double *weights, size_t count,
                                  const tdm_partial *partial);

#endif
