/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/zone_reading.h"

#include <math.h>
#include <stdlib.h>

static const double distances_m[TDM_DISTANCES] = {0.6, 1.2, 3.0};
static const tdm_value null_value = {.value = NAN, .u = NAN};

static void null_lab(double lab[3])
{
    lab[0] = lab[1] = lab[2] = NAN;
}

static void null_area(tdm_area *area)
{
    null_lab(area->lab);
    area->lstar = null_value;
    area->level = null_value;
    area->tone = NULL;
}

static void null_evenness(struct tdm_zone_reading *zone)
{
    zone->evenness.patchiness_de00 = zone->evenness.patchiness_lstar = zone->evenness.warmth = null_value;
    zone->evenness.warm_count = NAN;
    zone->evenness.between_lstar = zone->evenness.between_de00 = null_value;
    zone->evenness.between_level = zone->evenness.between_root_level = null_value;
    zone->evenness.between_share = zone->evenness.between_contrast = null_value;
    zone->evenness.left_right_lstar = zone->evenness.left_right_level = null_value;
    zone->evenness.left_right_root_level = zone->evenness.left_right_share = null_value;
    zone->evenness.left_right_contrast = zone->evenness.left_right_centre_mm = null_value;
    zone->frame.lstar_above_rest = zone->frame.level_above_rest = null_value;
    zone->frame.share_above_rest = null_value;
}

static void null_strand_area(tdm_strand_area *area)
{
    area->light_share = area->contrast_lstar = null_value;
    area->ribbon_mm = area->spacing_mm = area->spacing_cv = area->count_per_100mm = NAN;
}

void tdm_zone_reading_init(struct tdm_zone_reading *zone)
{
    *zone = (struct tdm_zone_reading){.weight = 1};
    null_evenness(zone);
    zone->length_mm = zone->width_mm = zone->used_share = zone->root_mm = NAN;
    null_area(&zone->overall);
    null_area(&zone->root);
    null_area(&zone->mid);
    null_area(&zone->ends);
    zone->gradient.centre_mm = zone->gradient.width_mm = null_value;
    zone->gradient.centre_share = zone->gradient.width_share = null_value;
    zone->gradient.de00 = zone->gradient.slope_lstar_per_cm = null_value;
    zone->demarcation.local_width_mm = zone->demarcation.stagger_mm = null_value;
    zone->gradient.light_lstar = zone->gloss_share = NAN;
    zone->demarcation.slope = null_value;
    zone->demarcation.span = zone->demarcation.course_mm = zone->demarcation.zigzag_period_mm = NAN;
    zone->demarcation.gap_count = zone->demarcation.bleed_count = NAN;
    for (size_t i = 0; i < TDM_DISTANCES; i++)
        zone->demarcation.visibility[i] =
            (tdm_visibility){.distance_m = distances_m[i], .dprime = NAN, .u = NAN};
    zone->demarcation.shows_from_m = zone->demarcation.hidden_from_m = NAN;
    zone->regrowth.length_mm = zone->regrowth.mm_per_month = null_value;
    zone->regrowth.days = NAN;
    zone->strands.light_share = zone->strands.middle_share = zone->strands.separation = null_value;
    zone->strands.contrast_lstar = zone->strands.contrast_de00 = zone->strands.contrast_michelson =
        null_value;
    zone->strands.kinds = NAN;
    null_strand_area(&zone->strands.root);
    null_strand_area(&zone->strands.mid);
    null_strand_area(&zone->strands.ends);
    null_lab(zone->strands.light_lab);
    null_lab(zone->strands.middle_lab);
    null_lab(zone->strands.dark_lab);
    zone->strands.ribbon_median = zone->strands.ribbon_p25 = zone->strands.ribbon_p75 = NAN;
    zone->strands.spacing_median = zone->strands.spacing_cv = NAN;
    zone->strands.ribbon_u = zone->strands.start_u = NAN;
    zone->strands.count_per_100mm = null_value;
    zone->strands.period_mm = zone->strands.period_strength = NAN;
    zone->strands.length_median = zone->strands.length_p25 = zone->strands.length_p75 = NAN;
    zone->grey.share = null_value;
    null_lab(zone->grey.lab);
    zone->strands.start_median = zone->strands.start_p25 = zone->strands.start_p75 = NAN;
    zone->strands.onset_median = zone->strands.onset_p25 = zone->strands.onset_p75 = NAN;
}

void tdm_zone_reading_clear(struct tdm_zone_reading *zone)
{
    free(zone->name);
    free(zone->side);
    free(zone->gradient.profile.points);
    free(zone->demarcation.gaps.items);
    free(zone->demarcation.bleeds.items);
    free(zone->evenness.warm.items);
    tdm_strand_map_clear(&zone->strands.map);
    tdm_zone_reading_init(zone);
}
