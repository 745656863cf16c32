/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How well the line shows to an eye at a distance. */
#ifndef TDM_MEASURE_VISIBILITY_H
#define TDM_MEASURE_VISIBILITY_H

#include "measure/fall.h"
#include "strip/strip.h"

/* d': the step of colour across the line within one degree of view, over the larger of the hair's own texture
 * there and one just-noticeable difference. The largest near the fall's line; anywhere where the fall has
 * none. distance_m: of the eye, over 0. *dprime is NaN where it can't be told: without a scale, or where too
 * little hair lies beside every place. */
TDM_MUST_CHECK tdm_code tdm_line_dprime(const tdm_strip *strip, const tdm_fall *fall, double distance_m,
                                        double *dprime, tdm_error *error);

/* "none", "soft", "visible" or "hard" for a d' at 1.2 m; NULL for NaN. Static storage. */
const char *tdm_line_grade(double dprime);

#endif
