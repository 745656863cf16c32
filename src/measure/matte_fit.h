/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TDM_MEASURE_MATTE_FIT_H
#define TDM_MEASURE_MATTE_FIT_H

#include "measure/matte_model.h"

/* Least squares by Levenberg-Marquardt from *values on. *cost: sum of squares of tdm_matte_off. False where
 * it runs away, or without memory; *values then stay. */
bool tdm_matte_fit(const tdm_matte_model *model, tdm_matte_values *values, double *cost);

#endif
