/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How far noise moves one column's fit. Residuals of hair are alike over some millimetres, so they count by
 * stretches, not by samples. */
#ifndef TDM_MEASURE_LINE_ERROR_H
#define TDM_MEASURE_LINE_ERROR_H

#include "measure/shape.h"

/* Variance of the centre of a transition without trend; NaN where it can't be told. */
double tdm_line_variance(const tdm_course *course, const tdm_shape_fit *fit);

/* Height of a transition whose centre and sigma are given, and its standard error. */
bool tdm_line_height(const tdm_course *course, const tdm_shape_fit *fit, double *height, double *error);

#endif
