/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/quality.h"

#include <math.h>
#include <stdio.h>

#include "measure/quality_edges.h"
#include "measure/quality_parts.h"

static const double rise = 2.5631;     /* from 10 to 90 % of a Gaussian edge, in standard deviations */
static const double least_smear = 0.7; /* of its own 10-90 % rise: a shorter one is the lens's */
static const double hair_doubt = 0.1;  /* relative, k = 1, of a rise told from strands: a choice */

/* Where the figures of one photograph or zone go. */
typedef struct sink {
    tdm_quality *quality;
    tdm_warnings *warnings;
    const char *zone;
    bool refused;
} sink;

static tdm_code add(sink *to, tdm_quality_id id, double value, double doubt, tdm_error *error)
{
    const tdm_quality_value it = {.value = value, .doubt = doubt, .zone = to->zone};
    return tdm_quality_add(to->quality, id, &it, &to->refused, to->warnings, error);
}

/* A length in px, and in mm where there is a scale; then the mm are judged and the px only stated. */
static tdm_code add_length(sink *to, tdm_quality_id px_id, tdm_quality_id mm_id, double mm_per_px,
                           const tdm_quality_value *px, tdm_error *error)
{
    tdm_quality_value it = *px;
    it.stated = isfinite(mm_per_px);
    tdm_code code = tdm_quality_add(to->quality, px_id, &it, NULL, to->warnings, error);
    if (code != TDM_OK || !it.stated)
        return code;
    it.stated = false;
    it.value *= mm_per_px;
    it.doubt *= mm_per_px;
    it.bound *= mm_per_px;
    return tdm_quality_add(to->quality, mm_id, &it, NULL, to->warnings, error);
}

static tdm_code warn_missing(const tdm_quality_input *input, tdm_warnings *warnings, tdm_error *error)
{
    tdm_code code = TDM_OK;
    if (input->calibration->method == TDM_CALIBRATION_ICC)
        code = tdm_warn(
            warnings, error, "no-target", NULL,
            "neither a target nor a grey card is marked, so the colour is the camera's own guess; put one "
            "in the hair's light");
    if (code == TDM_OK && !isfinite(input->mm_per_px))
        code = tdm_warn(
            warnings, error, "no-scale", NULL,
            "no scale is marked, so lengths are shares of the path and millimetres are left out; lay a "
            "ruler beside the hair");
    return code;
}

/* No motion shows without a target. What is no longer than the sharpest edge's own rise may be the lens's. */
static tdm_code add_motion(sink *to, const tdm_quality_input *input, const tdm_edge_spread *spread,
                           tdm_error *error)
{
    const double extra = spread->smeared * spread->smeared - spread->sharp * spread->sharp;
    const double length = tdm_smear_length(spread);
    char where[64];
    (void)snprintf(where, sizeof where, ", at about %d degrees from level",
                   isfinite(spread->direction) ? (int)lround(spread->direction / 5) * 5 % 180 : 0);
    const bool shows = !isfinite(length) || length > least_smear * rise * spread->sharp;
    const tdm_quality_value value = {.value = shows ? length : 0,
                                     .doubt = shows && extra > 0 ? length / 2 * spread->u_extra / extra : 0,
                                     .detail = where};
    return add_length(to, TDM_QUALITY_MOTION_PX, TDM_QUALITY_MOTION_MM, input->mm_per_px, &value, error);
}

/* The hair may be out of focus where the target isn't: strands twice as wide are suspect before they are
 * beyond the bound itself. */
static tdm_code add_strands(sink *to, const tdm_quality_input *input, double target, tdm_error *error)
{
    tdm_edge_spread spread;
    const tdm_code code = tdm_spread_of_hair(input, &spread, error);
    const double across = rise * spread.sharp;
    const tdm_quality_value value = {.value = across,
                                     .doubt = isfinite(across) ? hair_doubt * across : 0,
                                     .bound = isfinite(target) ? 2 * target : 0};
    return code == TDM_OK ? add_length(to, TDM_QUALITY_HAIR_FOCUS_PX, TDM_QUALITY_HAIR_FOCUS_MM,
                                       input->mm_per_px, &value, error)
                          : code;
}

static tdm_code add_edges(sink *to, const tdm_quality_input *input, tdm_error *error)
{
    tdm_edge_spread spread = {NAN, NAN, NAN, NAN};
    tdm_code code = TDM_OK;
    if (input->corners)
        code = tdm_spread_of_target(input, &spread, error);
    const tdm_quality_value focus = {.value = rise * spread.sharp};
    if (code == TDM_OK)
        code = add_length(to, TDM_QUALITY_FOCUS_PX, TDM_QUALITY_FOCUS_MM, input->mm_per_px, &focus, error);
    if (code == TDM_OK)
        code = add_strands(to, input, focus.value, error);
    if (code == TDM_OK)
        code = add_motion(to, input, &spread, error);
    return code;
}

static tdm_code add_file(sink *to, const tdm_quality_input *input, tdm_error *error)
{
    double blocks = NAN, noise = NAN;
    tdm_code code = tdm_quality_noise(input, &noise, error);
    if (code == TDM_OK)
        code = add(to, TDM_QUALITY_NOISE, noise, 0, error);
    const int quality = input->photo->jpeg_quality;
    if (code == TDM_OK)
        code = add(to, TDM_QUALITY_JPEG, quality > 0 ? (double)quality : NAN, 0, error);
    if (code == TDM_OK)
        code = tdm_quality_blocks(input, &blocks, error);
    /* Where the file itself tells how it was compressed, that judges. */
    const tdm_quality_value value = {
        .value = blocks, .stated = quality > 0 && quality < tdm_quality_rows[TDM_QUALITY_JPEG].threshold};
    return code == TDM_OK
               ? tdm_quality_add(to->quality, TDM_QUALITY_BLOCKS, &value, NULL, to->warnings, error)
               : code;
}

static tdm_code add_light(sink *to, const tdm_quality_input *input, tdm_error *error)
{
    const tdm_calibration *calibration = input->calibration;
    const bool target = calibration->method == TDM_CALIBRATION_TARGET;
    double mixed, doubt;
    const double tilt = tdm_quality_tilt(input, &doubt);
    tdm_code code = add(to, TDM_QUALITY_TILT, tilt, doubt, error);
    if (code == TDM_OK)
        code = tdm_quality_mixed(input, &mixed, &doubt, error);
    if (code == TDM_OK)
        code = add(to, TDM_QUALITY_MIXED, mixed, doubt, error);
    if (code == TDM_OK)
        code = add(to, TDM_QUALITY_CAST, tdm_quality_cast(calibration), 0, error);
    if (code == TDM_OK)
        code = add(to, TDM_QUALITY_RESIDUAL, target ? calibration->residual_mean : NAN, 0, error);
    if (code == TDM_OK)
        code = add(to, TDM_QUALITY_LEFT_OUT, target ? calibration->left_out_mean : NAN, 0, error);
    return code;
}

tdm_code tdm_quality_photo(const tdm_quality_input *input, tdm_quality *quality, tdm_warnings *warnings,
                           tdm_error *error)
{
    sink to = {.quality = quality, .warnings = warnings};
    tdm_code code = warn_missing(input, warnings, error);
    if (code == TDM_OK)
        code = add(&to, TDM_QUALITY_RESOLUTION, 1 / input->mm_per_px, 0, error);
    if (code == TDM_OK)
        code = add_edges(&to, input, error);
    if (code == TDM_OK)
        code = add_file(&to, input, error);
    if (code == TDM_OK)
        code = add_light(&to, input, error);
    return code;
}

/* Cells count for half the say along that they have across: a zone is longer than wide. */
static tdm_code add_size(sink *to, const tdm_strip *strip, tdm_error *error)
{
    const double along = (double)strip->rows / 4, across = (double)strip->cols;
    const tdm_quality_value cells = {.value = fmin(along, across), .zone = to->zone};
    tdm_code code = TDM_OK;
    /* With a scale its px a mm tell as much, unless the zone is small. */
    if (!strip->scaled || cells.value < tdm_quality_rows[TDM_QUALITY_CELLS].threshold)
        code = tdm_quality_add(to->quality, TDM_QUALITY_CELLS, &cells, &to->refused, to->warnings, error);
    if (code == TDM_OK && strip->scaled)
        code = add(to, TDM_QUALITY_LENGTH, strip->length, 0, error);
    return code;
}

/* The middle of the zone's path. */
static void middle_of(const tdm_zone_marks *zone, double *x, double *y)
{
    const size_t last = zone->path.count - 1;
    const double *a = zone->path.xy + 2 * (last / 2), *b = zone->path.xy + 2 * ((last + 1) / 2);
    *x = (a[0] + b[0]) / 2;
    *y = (a[1] + b[1]) / 2;
}

static tdm_code add_uneven(sink *to, const tdm_quality_input *input, size_t zone, tdm_error *error)
{
    double x, y, percent, doubt;
    middle_of(&input->marks->zones[zone], &x, &y);
    tdm_quality_uneven(input->calibration, x, y, &percent, &doubt);
    return add(to, TDM_QUALITY_UNEVEN, percent, doubt, error);
}

tdm_code tdm_quality_zone(const tdm_quality_input *input, size_t zone, const tdm_strip *strip,
                          tdm_quality *quality, tdm_warnings *warnings, bool *carries, tdm_error *error)
{
    sink to = {.quality = quality, .warnings = warnings, .zone = input->marks->zones[zone].name};
    tdm_code code = add_size(&to, strip, error);
    if (code == TDM_OK)
        code = add(&to, TDM_QUALITY_CLIPPED, 100 * strip->clipped_share, 0, error);
    if (code == TDM_OK)
        code = add(&to, TDM_QUALITY_DARK, 100 * strip->black_share, 0, error);
    if (code == TDM_OK)
        code = add(&to, TDM_QUALITY_USED, 100 * strip->used_share, 0, error);
    if (code == TDM_OK)
        code = add_uneven(&to, input, zone, error);
    *carries = !to.refused;
    if (code == TDM_OK && !*carries)
        code = tdm_warn(
            warnings, error, "zone-unusable", to.zone,
            "too little of the zone can be seen to measure it (%zu by %zu cells, %d %% of them usable)",
            strip->cols, strip->rows, (int)(100 * strip->used_share + 0.5));
    return code;
}
