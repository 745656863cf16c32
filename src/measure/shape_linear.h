/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The linear half of a shape fit: heights for given centres and widths. */
#ifndef TDM_MEASURE_SHAPE_LINEAR_H
#define TDM_MEASURE_SHAPE_LINEAR_H

#include "measure/shape.h"

/* Fills base, slope (0 unless trend), step and rss for the given steps (0 to 2) with their centre and sigma
 * set. False where the system is singular. */
bool tdm_shape_solve(const tdm_course *course, bool trend, int steps, tdm_shape_fit *fit);

/* Normal distribution of (along - centre) / sigma. */
double tdm_rise(double along, double centre, double sigma);

#endif
