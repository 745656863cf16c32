/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whether ribbons come at even distances: the stripe that an eye can follow. */
#ifndef TDM_MEASURE_RIBBON_PERIOD_H
#define TDM_MEASURE_RIBBON_PERIOD_H

#include "measure/ribbon_straight.h"

typedef struct tdm_ribbon_period {
    double period;       /* across, at the path's start, in the strip's units; NaN where none is sought */
    double strength;     /* share of the light's variance across that a wave of it holds, 0 to 1; or NaN */
    double share;        /* the same of the straightened light alone */
    size_t ribbons;      /* side by side in the straightened light */
    const char *pattern; /* "regular", "random"; NULL where it can't be told */
} tdm_ribbon_period;

TDM_MUST_CHECK tdm_code tdm_ribbon_period_find(const tdm_ribbon_profile *profile, tdm_ribbon_period *out,
                                               tdm_error *error);

#endif
