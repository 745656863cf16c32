/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The light map laid straight along its strands. */
#ifndef TDM_MEASURE_RIBBON_STRAIGHT_H
#define TDM_MEASURE_RIBBON_STRAIGHT_H

#include "measure/ribbon_runs.h"
#include "measure/strand_field.h"

typedef struct tdm_ribbon_profile {
    size_t cols;
    double cell;   /* width of a column */
    double *light; /* cols: mean light, by where strands lie at the path's start; NaN where too few go */
    double kept;   /* its variance over the light's within a window, 0 to 1: near 1 where strands hold their
                      places, little where they cross and drift by more than a ribbon */
    double cosine; /* of the strands' mean slope: a length perpendicular to them over one across */
} tdm_ribbon_profile;

/* Waves, and locks that draw together, are taken out. field: NULL takes strands to run straight above the
 * grid. Freed with tdm_ribbon_profile_free. */
TDM_MUST_CHECK tdm_code tdm_ribbon_straighten(const tdm_strand_grid *grid, const tdm_strand_field *field,
                                              double cell, tdm_ribbon_profile *out, tdm_error *error);
void tdm_ribbon_profile_free(tdm_ribbon_profile *profile);

#endif
