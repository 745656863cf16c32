/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The inside of a plan. */
#ifndef TDM_PLAN_PLAN_PARTS_H
#define TDM_PLAN_PLAN_PARTS_H

#include "colour/level.h"
#include "plan/melt.h"
#include "tidemark/plan.h"

/* A zone's plan and what its map is drawn from. */
typedef struct tdm_planned_zone {
    tdm_zone_plan about; /* its three sentences are owned */
    bool has_hair;       /* false where the zone couldn't be read */
    tdm_hair hair;       /* in cells of half a millimetre */
    tdm_melt melt;       /* along the path; of use where about.planned */
    bool longest;        /* it ends with the hair */
    double light_from;   /* hair of this luminance or more isn't to be lightened; NaN without a target */
} tdm_planned_zone;

struct tdm_plan {
    tdm_reading *reading;
    tdm_planned_zone *zones;
    size_t zone_count;
    char *summary;
    double target_level; /* NaN: each zone's own */
};

/* A simulated d' must lie so much below the visible one: drawn heads were within 15 % of it. */
#define TDM_PLAN_MARGIN 0.15

#define TDM_PLAN_IMPOSSIBLE "no plan possible"

/* plan_zone.c: everything but order and sentences. *out is zero but for name and weight. */
TDM_MUST_CHECK tdm_code tdm_plan_zone_make(const tdm_strip *strip, const struct tdm_zone_reading *reading,
                                           const tdm_level_scale *scale, double target_level,
                                           tdm_planned_zone *out, tdm_error *error);
/* plan_light.c: light hair of a zone and light_from. hair: the zone's, in the strip's cells. */
void tdm_plan_light(const tdm_hair *hair, const struct tdm_zone_reading *reading,
                    const tdm_level_scale *scale, double target_level, tdm_planned_zone *out);
tdm_light_hair tdm_light_unknown(void); /* every figure NaN */
/* Whether a cell of the hair is light enough not to be lightened. */
bool tdm_plan_is_light(const tdm_hair *hair, size_t cell, double light_from);

/* plan_words.c */
TDM_MUST_CHECK tdm_code tdm_plan_say(const struct tdm_zone_reading *reading, const tdm_level_scale *scale,
                                     tdm_planned_zone *zone, tdm_error *error);
/* plan_order.c: sets every zone's order, and the summary. */
TDM_MUST_CHECK tdm_code tdm_plan_put_in_order(tdm_plan *plan, tdm_error *error);

#endif
