/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What gloss and light that changes along the fall would do to its fitted figures. */
#ifndef TDM_MEASURE_SENSITIVITY_H
#define TDM_MEASURE_SENSITIVITY_H

#include "measure/measure.h"

/* Given a course's colours (bins * 3) and its fit, the figures that hang on it; NaN where there are none. */
enum { TDM_FALL_CENTRE, TDM_FALL_WIDTH, TDM_FALL_DE00, TDM_FALL_SLOPE, TDM_FALL_FIGURES };
typedef void (*tdm_fall_figures)(const tdm_measure_input *input, const tdm_shape_fit *fit, const double *lab,
                                 const double *values, double out[TDM_FALL_FIGURES]);

/* Standard uncertainties of the figures, in the strip's units: the course is fitted again with a part of
 * the gloss put back, and under light that rises and falls from root to ends (JCGM 101:2008, by the same
 * idea). */
TDM_MUST_CHECK tdm_code tdm_fall_sensitivity(const tdm_measure_input *input, tdm_fall_figures figures,
                                             double gloss[TDM_FALL_FIGURES], double light[TDM_FALL_FIGURES],
                                             tdm_error *error);

#endif
