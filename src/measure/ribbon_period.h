/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whether ribbons come at even distances: the stripe that an eye can follow. */
#ifndef TDM_MEASURE_RIBBON_PERIOD_H
#define TDM_MEASURE_RIBBON_PERIOD_H

#include "measure/ribbon_straight.h"

typedef struct tdm_ribbon_period {
    double
        period; /* across the strands, at the path's start, in the strip's units; NaN where none is sought */
    double share;    /* of the straightened light's variance that a wave of it holds, over what it would hold
                        of a perfect stripe with as much light; 0 to 1 */
    double strength; /* the same of all of the light's variance across; or NaN */
    size_t ribbons;  /* side by side in the straightened light */
    const char *pattern; /* "regular", "random"; NULL where it can't be told */
} tdm_ribbon_period;

TDM_MUST_CHECK tdm_code tdm_ribbon_period_find(const tdm_ribbon_profile *profile, tdm_ribbon_period *out,
                                               tdm_error *error);

#endif
