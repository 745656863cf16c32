/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The melt that colours least hair and still takes the line out of sight. */
#ifndef TDM_PLAN_SEARCH_H
#define TDM_PLAN_SEARCH_H

#include "plan/simulate.h"

typedef struct tdm_search_result {
    tdm_melt melt;
    tdm_line_figures after; /* simulated on the whole strip, not on the coarse one */
    bool possible;          /* d' can be told; nothing else is set where it can't */
    bool enough;            /* after.dprime is at or under the aim */
    bool longest;           /* it ends with the hair, so that no longer one would have been possible */
} tdm_search_result;

/* Melts are tried on coarse hair, the found one again on the whole. fall: of the hair,
 * with a line (TDM_SHAPE_TRANSITION). aim: largest d' at the distance. Where none that
 * was tried reaches it, that of least d', those that end with the hair among them. */
TDM_MUST_CHECK tdm_code tdm_melt_search(const tdm_hair *hair, const tdm_fall *fall, double distance_m,
                                        double aim, tdm_search_result *out, tdm_error *error);

#endif
