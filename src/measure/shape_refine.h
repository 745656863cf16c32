/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TDM_MEASURE_SHAPE_REFINE_H
#define TDM_MEASURE_SHAPE_REFINE_H

#include "measure/shape.h"

/* Levenberg-Marquardt from *fit on all of its parameters (the slope only with trend). False, and *fit as it
 * was, where it doesn't converge to a finite place within the bounds: centres from half a length before the
 * root to half a length after the ends, sigma up to one length. */
bool tdm_shape_refine(const tdm_course *course, bool trend, int steps, tdm_shape_fit *fit);

#endif
