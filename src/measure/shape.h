/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shapes that a course of colour from root to ends may have, fitted by least squares. */
#ifndef TDM_MEASURE_SHAPE_H
#define TDM_MEASURE_SHAPE_H

#include <stdbool.h>
#include <stddef.h>

#include "tidemark/error.h"

typedef enum tdm_shape { TDM_SHAPE_UNIFORM, TDM_SHAPE_RAMP, TDM_SHAPE_TRANSITION, TDM_SHAPE_BAND } tdm_shape;

/* Samples in the order of `along`; weights 0 (missing) and up. Borrowed. */
typedef struct tdm_course {
    const double *along;
    const double *value;
    const double *weight;
    size_t count;
    double length; /* of the whole path, in the units of along */
} tdm_course;

/* value(s) = base + slope s + sum over i of step[i] P((s - centre[i]) / sigma[i]), P the normal distribution.
 */
typedef struct tdm_shape_fit {
    tdm_shape shape;
    double base, slope;
    double step[2], centre[2], sigma[2];
    double rss;       /* weighted sum of squares, mean weight 1 */
    double effective; /* independent samples, from the residuals' lag-1 correlation */
} tdm_shape_fit;

/* The 10-90 % rise distance of a normal edge (ISO 12233's edge measure): 2 z(0.9) sigma. */
#define TDM_RISE_PER_SIGMA 2.5631031310892007

const char *tdm_shape_word(tdm_shape shape);
double tdm_shape_value(const tdm_shape_fit *fit, double along);

/* Fits all shapes and chooses by BIC. noise: steps below it aren't worth a shape (units of value). At least
 * 16 samples with weight, else TDM_ERR_UNUSABLE. */
TDM_MUST_CHECK tdm_code tdm_shape_choose(const tdm_course *course, double noise, tdm_shape_fit *out,
                                         tdm_error *error);

/* One transition without trend, its centre searched in [from, to]. False where it can't be fitted. */
bool tdm_shape_transition(const tdm_course *course, double from, double to, tdm_shape_fit *out);

/* Base, slope, steps and rss again for the fit's centres and widths; a slope only where it has one. */
bool tdm_shape_refit_heights(const tdm_course *course, tdm_shape_fit *fit);

/* The same shape again on other samples, from where it was. False where the fit runs away. */
bool tdm_shape_refit(const tdm_course *course, const tdm_shape_fit *start, tdm_shape_fit *out);

#endif
