/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the target lies, how many millimetres a pixel has, and which part of the picture must be decoded. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/fail.h"
#include "colour/homography.h"
#include "marks/size_scale.h"
#include "measure/sitting.h"
#include "strip/strip.h"

/* Relative difference between two scales from which one of them must be wrong: the target's tilt and the ends
 * of a ruler together stay under it. */
static const double scale_disagreement = 0.03;
static const double marked_end_px = 1.5; /* standard uncertainty of a marked end of the scale: a choice */

static tdm_code find(tdm_sitting *sitting, tdm_error *error)
{
    if (sitting->marks.has_target) {
        sitting->has_target = true;
        sitting->target = (tdm_found_target){.confidence = NAN};
        memcpy(sitting->target.corners, sitting->marks.corners, sizeof sitting->target.corners);
        return TDM_OK;
    }
    /* A calibration's target was in another photograph; but one of known width may be wanted for the scale.
     */
    if (sitting->options->calibration && !(sitting->options->target_width_mm > 0))
        return TDM_OK;
    const tdm_code code =
        tdm_target_find(sitting->device, sitting->photo, &sitting->has_target, &sitting->target, error);
    sitting->searched = sitting->has_target;
    return code;
}

tdm_code tdm_sitting_locate(tdm_sitting *sitting, tdm_error *error)
{
    const tdm_code code = find(sitting, error);
    if (code != TDM_OK || !sitting->has_target || !tdm_corners_mirrored(sitting->target.corners))
        return code;
    return tdm_warn(
        sitting->warnings, error, "target-mirrored", NULL,
        "the target is seen as in a mirror, so left and right are exchanged in this picture: mark the sides "
        "to suit, or save the photograph unmirrored");
}

static double target_width(const tdm_sitting *sitting)
{
    if (sitting->options->target_width_mm > 0)
        return sitting->options->target_width_mm;
    return sitting->marks.has_target ? sitting->marks.target_width_mm : NAN;
}

static double marked_u(const tdm_sitting *sitting)
{
    return sqrt(2) * marked_end_px / sitting->marks.scale_px;
}

static tdm_code check_widths(const tdm_sitting *sitting, tdm_error *error)
{
    if (isfinite(sitting->mm_per_px))
        return TDM_OK;
    for (size_t i = 0; i < sitting->marks.zone_count; i++) {
        const tdm_zone_marks *zone = &sitting->marks.zones[i];
        char place[64];
        if (!zone->width_in_mm && !(zone->root_mm > 0))
            continue;
        (void)snprintf(place, sizeof place, "zones[%zu].%s", i, zone->width_in_mm ? "width_mm" : "root_mm");
        return tdm_fail(error, TDM_ERR_FORMAT, sitting->marks_path, place,
                        "needs a scale; mark one, give the target's width, or %s",
                        zone->width_in_mm ? "give width_px" : "leave it out");
    }
    return TDM_OK;
}

tdm_code tdm_sitting_scale(tdm_sitting *sitting, tdm_error *error)
{
    double size = NAN, spread = NAN;
    const char *source = NULL;
    tdm_scale_from_sizes(&sitting->marks, sitting->has_target ? sitting->target.corners : NULL,
                         target_width(sitting), &size, &spread, &source);
    sitting->mm_per_px = size;
    sitting->scale_u = spread;
    sitting->scale_source = source;
    if (!sitting->marks.has_scale) {
        sitting->marks.mm_per_px = size;
        sitting->marks.has_scale = isfinite(size);
        return check_widths(sitting, error);
    }
    sitting->mm_per_px = sitting->marks.mm_per_px;
    sitting->scale_u = marked_u(sitting);
    sitting->scale_source = "marked";
    if (!source || !(fabs(size / sitting->mm_per_px - 1) > scale_disagreement))
        return TDM_OK;
    return tdm_warn(
        sitting->warnings, error, "scale-disagrees", NULL,
        "the marked scale gives %.3f mm a pixel, the %s's known size %.3f: one of them isn't in the "
        "hair's plane, or a length is wrong",
        sitting->mm_per_px, source, size);
}

static void grow(tdm_rect *whole, tdm_rect part)
{
    if (part.width == 0 || part.height == 0)
        return;
    if (whole->width == 0) {
        *whole = part;
        return;
    }
    const uint32_t right =
        part.x + part.width > whole->x + whole->width ? part.x + part.width : whole->x + whole->width;
    const uint32_t bottom =
        part.y + part.height > whole->y + whole->height ? part.y + part.height : whole->y + whole->height;
    whole->x = part.x < whole->x ? part.x : whole->x;
    whole->y = part.y < whole->y ? part.y : whole->y;
    whole->width = right - whole->x;
    whole->height = bottom - whole->y;
}

static void grow_round(const tdm_sitting *sitting, const double *points, size_t count, tdm_rect *whole)
{
    const tdm_photo_info *about = tdm_photo_about(sitting->photo);
    grow(whole, tdm_polygon_rect(points, count, about->width, about->height));
}

/* One decode of the rectangle that holds everything marked and found. */
tdm_code tdm_sitting_decode(tdm_sitting *sitting, tdm_error *error)
{
    const tdm_marks *marks = &sitting->marks;
    tdm_rect whole = {0};
    if (sitting->has_target)
        grow_round(sitting, sitting->target.corners, 4, &whole);
    for (size_t i = 0; i < marks->grey_count; i++)
        grow_round(sitting, marks->greys[i].polygon.xy, marks->greys[i].polygon.count, &whole);
    for (size_t i = 0; i < marks->swatch_count; i++)
        grow_round(sitting, marks->swatches[i].polygon.xy, marks->swatches[i].polygon.count, &whole);
    for (size_t i = 0; i < marks->zone_count; i++) {
        tdm_rect part;
        const tdm_code code = tdm_strip_rect(marks, i, &part, error);
        if (code != TDM_OK)
            return code;
        grow(&whole, part);
    }
    return whole.width > 0 ? tdm_photo_read(sitting->photo, whole, &sitting->pixels, error) : TDM_OK;
}
