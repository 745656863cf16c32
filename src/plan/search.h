/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The melt that colours least hair and still takes the line out of sight. */
#ifndef TDM_PLAN_SEARCH_H
#define TDM_PLAN_SEARCH_H

#include "plan/simulate.h"

typedef struct tdm_search_result {
    tdm_melt melt;
    tdm_line_figures after; /* simulated on the whole strip, not on the coarse one */
    bool enough;            /* after.dprime is at or under the aim */
} tdm_search_result;

/* Melts are tried on coarse hair, the found one again on the whole. fall: of the hair,
 * with a line (TDM_SHAPE_TRANSITION). aim: largest d' at the distance. Where none reaches it, the melt of
 * least d'. */
TDM_MUST_CHECK tdm_code tdm_melt_search(const tdm_hair *hair, const tdm_fall *fall, double distance_m,
                                        double aim, tdm_search_result *out, tdm_error *error);

#endif
