/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How much warmer a colour is than another, and how much of that isn't light on it or the mixture of strands.
 */
#ifndef TDM_MEASURE_EVENNESS_CAUSES_H
#define TDM_MEASURE_EVENNESS_CAUSES_H

#include "measure/measure.h"

/* What may make a place warmer without its being a patch of another shade. */
typedef struct tdm_warm_causes {
    double strands[3], fall[3]; /* light less dark, lengths less root: linear XYZ */
    bool has_strands, has_fall; /* and in which lightness differs more than warmth */
    double gloss;               /* white light that may be there or lack, Y = 1 for the diffuser */
} tdm_warm_causes;

/* zone: with its strands read. */
tdm_warm_causes tdm_warm_causes_of(const tdm_measure_input *input, const struct tdm_zone_reading *zone);

/* CIELAB units towards orange. */
double tdm_towards_orange(const double lab[3], const double from[3]);

/* Of XYZ, what is left when light, gloss, more of the light strands or a place further along the fall, each
 * on its own, has made what is usual as light. The least of them. */
double tdm_warmth_left(const tdm_warm_causes *may, const double own[3], const double usual[3]);

/* What is left where there is such a share more of light strands, in shade, or less in the light; infinity
 * where strands aren't apart. */
double tdm_warmth_past_chance(const tdm_warm_causes *may, const double own[3], const double usual[3],
                              double share);

#endif
