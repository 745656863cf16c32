/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Some of a head's zones against others, figure by figure. */
#ifndef TDM_MEASURE_ZONE_CONTRAST_H
#define TDM_MEASURE_ZONE_CONTRAST_H

#include "measure/budget.h"

/* Borrowed. shares: weight of each zone in a mean, 0 for those that weren't read. */
typedef struct tdm_head_zones {
    const struct tdm_zone_reading *zones;
    const double *shares;
    size_t count;
} tdm_head_zones;

typedef bool (*tdm_zone_pick)(const struct tdm_zone_reading *zone, const void *about);

/* Mean of a VALUE figure over the picked zones less its mean over the others that `against` picks; a zone
 * that both pick counts on both sides. What is each zone's own (sampling, its place in the light, gloss, what
 * the method leaves) adds in squares; what the zones share (calibration, scale, plane, date) cancels as far
 * as it is alike (JCGM 100:2008, 5.2.2). False where either side has no such figure. */
bool tdm_zone_contrast(const tdm_head_zones *all, const tdm_figure *figure, tdm_zone_pick of,
                       const void *of_about, tdm_zone_pick against, const void *against_about, double *value,
                       tdm_budget *parts);

#endif
