/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Hair that is already light and isn't to be lightened again, place by place. */
#ifndef TDM_PLAN_SKIP_H
#define TDM_PLAN_SKIP_H

#include "colour/level.h"
#include "measure/zone_reading.h"
#include "strip/strip.h"

enum { TDM_SKIP_UNKNOWN, TDM_SKIP_MAY, TDM_SKIP_LEAVE };

/* Lengths in the strip's units. */
typedef struct tdm_skip_map {
    size_t windows, cols; /* along and across; none: nothing is known */
    double from;          /* of the first window, from the path's start */
    double window, cell;  /* length of a window along, width of a column across */
    uint8_t *state;       /* owned: windows * cols of TDM_SKIP_... */
    tdm_value share;      /* left alone, of the places that are known; NaN where there are none */
} tdm_skip_map;

/* By the zone's own light strands: places with more light hair than dark. Nothing is known where they aren't
 * separable. The share's uncertainty is that of the light share. */
TDM_MUST_CHECK tdm_code tdm_skip_by_strands(const struct tdm_zone_reading *zone, tdm_skip_map *out,
                                            tdm_error *error);

/* By level: places whose colour, the mean of linear light over about 1 mm along one column, is at the level
 * or above. level_u: expanded uncertainty of levels, which gives that of the share. */
TDM_MUST_CHECK tdm_code tdm_skip_by_level(const tdm_strip *strip, const tdm_level_scale *scale, double level,
                                          double level_u, tdm_skip_map *out, tdm_error *error);

void tdm_skip_map_free(tdm_skip_map *map); /* and back to nothing */

#endif
