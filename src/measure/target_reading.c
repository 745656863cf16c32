/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What may be asked of a target's reading. */
#include "measure/target_reading.h"
#include "colour/homography.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double degrees = 57.29577951308232;

/* From dark skin to bluish green, clockwise from rightwards: y runs down. */
static double turn_of(const double corners[8])
{
    return degrees * atan2(corners[3] - corners[1], corners[2] - corners[0]);
}

static const char *way_of(double turn)
{
    if (fabs(turn) <= 45)
        return "upright";
    if (fabs(turn) > 135)
        return "upside down";
    return turn > 0 ? "on its right side" : "on its left side";
}

void tdm_target_about(const tdm_target_reading *target, tdm_target_facts *out)
{
    const tdm_calibration *calibration = &target->calibration;
    const double *corners = target->found.corners;
    const double turn = target->marked ? turn_of(corners) : target->found.turn_deg;
    *out = (tdm_target_facts){
        .how = target->marked ? "marked" : "found",
        .way = way_of(turn),
        .turn_deg = turn,
        .mirrored = target->marked ? tdm_corners_mirrored(corners) : target->found.mirrored,
        .confidence = target->marked ? NAN : target->found.confidence,
        .before_mean = calibration->before_mean,
        .before_max = calibration->before_max,
        .residual_mean = calibration->residual_mean,
        .residual_max = calibration->residual_max,
        .left_out_mean = calibration->left_out_mean,
        .hair_mean = calibration->hair_mean,
        .root_polynomial = calibration->rooted,
        .u_lstar = 2 * calibration->u_lstar,
        .reference = target->reference.note,
    };
    memcpy(out->corners, corners, sizeof out->corners);
}

void tdm_target_photo(const tdm_target_reading *target, tdm_photo_facts *out)
{
    *out = (tdm_photo_facts){
        .file = target->file,
        .sha256 = target->sha256,
        .width = target->width,
        .height = target->height,
        .profile = target->profile,
        .profile_source = tdm_profile_source_word(target->profile_source),
        .taken = target->taken[0] ? target->taken : NULL,
        .taken_source = target->taken[0] ? "exif" : NULL,
    };
}

static const char *state_word(tdm_patch_state state)
{
    switch (state) {
    case TDM_PATCH_CLIPPED:
        return "clipped";
    case TDM_PATCH_CRUSHED:
        return "crushed";
    case TDM_PATCH_ODD:
        return "odd";
    case TDM_PATCH_KEPT:
        break;
    }
    return "kept";
}

void tdm_target_patch_at(const tdm_target_reading *target, size_t index, tdm_target_patch *out)
{
    const tdm_patch_result *result = &target->results[index];
    *out = (tdm_target_patch){
        .name = tdm_patch_names[index],
        .state = state_word(result->state),
        .de00_before = result->de00_before,
        .de00_after = result->de00_after,
        .left_out = result->left_out,
    };
    memcpy(out->reference_lab, target->reference.lab[index], sizeof out->reference_lab);
    memcpy(out->before_lab, result->before, sizeof out->before_lab);
    memcpy(out->after_lab, result->after, sizeof out->after_lab);
}

const tdm_warning *tdm_target_warnings(const tdm_target_reading *target, size_t *count)
{
    *count = target->warnings.count;
    return target->warnings.items;
}

tdm_rect tdm_target_crop(const double corners[8], uint32_t width, uint32_t height)
{
    enum { COLUMNS = 6 };
    const double side = hypot(corners[2] - corners[0], corners[3] - corners[1]);
    const double margin = 0.5 * side / COLUMNS;
    double wide[8];
    double middle[2] = {0, 0};
    for (size_t i = 0; i < 8; i++)
        middle[i % 2] += corners[i] / 4;
    for (size_t i = 0; i < 8; i++)
        wide[i] = corners[i] + (corners[i] > middle[i % 2] ? margin : -margin);
    return tdm_polygon_rect(wide, 4, width, height);
}

void tdm_target_reading_free(tdm_target_reading *target)
{
    if (!target)
        return;
    free(target->file);
    free(target->profile);
    tdm_warnings_free(&target->warnings);
    tdm_pixels_free(&target->crop);
    tdm_device_free(target->device);
    free(target);
}
