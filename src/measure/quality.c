/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/quality.h"

/* Choices of this project; METHODS.md gives the reasons. */
static const double least_px_per_mm = 3;
static const double clipped_note = 0.01, clipped_most = 0.25;
static const double used_note = 0.7, used_least = 0.1;
static const double least_length_mm = 30;
static const double residual_note = 3;
enum { LEAST_ROWS = 64, LEAST_COLS = 16 };

static tdm_code warn_calibration(const tdm_calibration *calibration, tdm_warnings *warnings, tdm_error *error)
{
    if (calibration->method == TDM_CALIBRATION_ICC)
        return tdm_warn(
            warnings, error, "no-target", NULL,
            "neither a target nor a grey card is marked, so the colour is the camera's own guess; put one "
            "in the hair's light");
    if (calibration->method == TDM_CALIBRATION_TARGET && calibration->residual_mean > residual_note)
        return tdm_warn(
            warnings, error, "target-residual", NULL,
            "the target's colours are still off after the correction; look for shade, glare or dirt on it");
    return TDM_OK;
}

tdm_code tdm_quality_photo(const tdm_marks *marks, const tdm_calibration *calibration, tdm_warnings *warnings,
                           tdm_error *error)
{
    tdm_code code = warn_calibration(calibration, warnings, error);
    if (code == TDM_OK && !marks->has_scale)
        code = tdm_warn(
            warnings, error, "no-scale", NULL,
            "no scale is marked, so lengths are shares of the path and millimetres are left out; lay a "
            "ruler beside the hair");
    if (code == TDM_OK && marks->has_scale && 1 / marks->mm_per_px < least_px_per_mm)
        code = tdm_warn(
            warnings, error, "low-resolution", NULL,
            "the picture has under 3 pixels a millimetre, so fine strands run together; move closer or "
            "use a larger picture");
    return code;
}

static tdm_code warn_resolution(const tdm_strip *strip, const char *zone, tdm_warnings *warnings,
                                tdm_error *error)
{
    if (strip->scaled || (strip->rows >= 2 * LEAST_ROWS && strip->cols >= 2 * LEAST_COLS))
        return TDM_OK;
    return tdm_warn(
        warnings, error, "low-resolution", zone,
        "the zone is only %zu by %zu pixels, so fine strands run together; move closer or use a larger "
        "picture",
        strip->cols, strip->rows);
}

static tdm_code warn_masked(const tdm_strip *strip, const char *zone, tdm_warnings *warnings,
                            tdm_error *error)
{
    if (strip->clipped_share > clipped_note) {
        const tdm_code code =
            tdm_warn(warnings, error, "clipped", zone,
                     "%d %% of the zone is burnt out and left out; expose less or turn the light",
                     (int)(100 * strip->clipped_share + 0.5));
        if (code != TDM_OK)
            return code;
    }
    if (strip->used_share < used_note)
        return tdm_warn(warnings, error, "little-used", zone,
                        "only %d %% of the zone can be used; check the exclusions and where the zone lies",
                        (int)(100 * strip->used_share + 0.5));
    return TDM_OK;
}

tdm_code tdm_quality_zone(const tdm_strip *strip, const char *zone, tdm_warnings *warnings, bool *carries,
                          tdm_error *error)
{
    tdm_code code = warn_resolution(strip, zone, warnings, error);
    if (code == TDM_OK)
        code = warn_masked(strip, zone, warnings, error);
    if (code == TDM_OK && strip->scaled && strip->length < least_length_mm)
        code =
            tdm_warn(warnings, error, "short-zone", zone,
                     "the zone is under 30 mm long; the fall from root to ends can't be told from texture");
    *carries = strip->used_share >= used_least && strip->clipped_share <= clipped_most &&
               strip->rows >= LEAST_ROWS && strip->cols >= LEAST_COLS;
    if (code == TDM_OK && !*carries)
        code = tdm_warn(
            warnings, error, "zone-unusable", zone,
            "too little of the zone can be seen to measure it (%zu by %zu cells, %d %% of them usable)",
            strip->cols, strip->rows, (int)(100 * strip->used_share + 0.5));
    return code;
}
