/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What may be asked of a reading. */
#include <stdlib.h>

#include "measure/reading_parts.h"

const char *tdm_zone_name(const tdm_zone_reading *zone)
{
    return zone->name;
}

const char *tdm_zone_side(const tdm_zone_reading *zone)
{
    return zone->side;
}

void tdm_reading_photo(const tdm_reading *reading, tdm_photo_facts *out)
{
    *out = (tdm_photo_facts){
        .file = reading->file,
        .sha256 = reading->sha256,
        .width = reading->width,
        .height = reading->height,
        .profile = reading->profile,
        .profile_source = tdm_profile_source_word(reading->profile_source),
        .taken = reading->taken[0] ? reading->taken : NULL,
        .taken_source = !reading->taken[0]     ? NULL
                        : reading->taken_given ? "given"
                                               : "exif",
        .coloured_on = reading->coloured_on[0] ? reading->coloured_on : NULL,
    };
}

static const char *method_word(tdm_calibration_method method)
{
    switch (method) {
    case TDM_CALIBRATION_GREY:
        return "grey";
    case TDM_CALIBRATION_TARGET:
        return "target";
    case TDM_CALIBRATION_ICC:
        break;
    }
    return "icc";
}

void tdm_reading_calibration(const tdm_reading *reading, tdm_calibration_facts *out)
{
    const tdm_calibration *calibration = &reading->calibration;
    *out = (tdm_calibration_facts){
        .method = method_word(calibration->method),
        .mm_per_px = reading->mm_per_px,
        .scale = reading->scale_source,
        .from = reading->from[0] ? reading->from : NULL,
        .before_mean = calibration->before_mean,
        .residual_mean = calibration->residual_mean,
        .residual_max = calibration->residual_max,
        .left_out_mean = calibration->left_out_mean,
        .u_lstar = 2 * calibration->u_lstar,
    };
}

bool tdm_reading_usable(const tdm_reading *reading)
{
    return reading->usable;
}

const tdm_warning *tdm_reading_warnings(const tdm_reading *reading, size_t *count)
{
    *count = reading->warnings.count;
    return reading->warnings.items;
}

const tdm_quality_figure *tdm_reading_quality(const tdm_reading *reading, size_t *count)
{
    *count = reading->quality.count;
    return reading->quality.items;
}

const char *tdm_reading_level_scale(const tdm_reading *reading)
{
    return reading->scale.note;
}

size_t tdm_reading_zone_count(const tdm_reading *reading)
{
    return reading->zone_count;
}

const tdm_zone_reading *tdm_reading_zone(const tdm_reading *reading, size_t index)
{
    return index < reading->zone_count ? &reading->zones[index] : NULL;
}

const tdm_zone_reading *tdm_reading_head(const tdm_reading *reading)
{
    return &reading->head;
}

void tdm_reading_free(tdm_reading *reading)
{
    if (!reading)
        return;
    for (size_t i = 0; i < reading->zone_count; i++)
        tdm_zone_reading_clear(&reading->zones[i]);
    free(reading->zones);
    tdm_zone_reading_clear(&reading->head);
    tdm_warnings_free(&reading->warnings);
    tdm_quality_free(&reading->quality);
    free(reading->file);
    free(reading->profile);
    free(reading);
}
