/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The correction, from the best reference that there is: another photograph's calibration, a target, greys,
 * nothing. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "colour/flat_field.h"
#include "colour/greys.h"
#include "measure/sitting.h"

static tdm_grey *list_greys(const tdm_marks *marks)
{
    tdm_grey *greys = calloc(marks->grey_count, sizeof *greys);
    for (size_t i = 0; greys && i < marks->grey_count; i++)
        greys[i] = (tdm_grey){.polygon = marks->greys[i].polygon.xy,
                              .count = marks->greys[i].polygon.count,
                              .lstar = marks->greys[i].lstar};
    return greys;
}

static tdm_code fit_target(tdm_sitting *sitting, const tdm_light *light, tdm_warnings *warnings,
                           tdm_error *error)
{
    return tdm_calibrate_target(sitting->device, &sitting->pixels, sitting->target.corners,
                                &sitting->reference, light, sitting->path, warnings, &sitting->calibration,
                                sitting->results, error);
}

static void middle_of(const double corners[8], double middle[2])
{
    for (int k = 0; k < 2; k++)
        middle[k] = (corners[k] + corners[2 + k] + corners[4 + k] + corners[6 + k]) / 4;
}

/* The card's photograph is read through its own profile, but through this photograph's curve. */
static tdm_code flat_light(tdm_sitting *sitting, const double at[2], tdm_light *out, tdm_error *error)
{
    const tdm_read_options *options = sitting->options;
    const tdm_photo_info *about = tdm_photo_about(sitting->photo);
    tdm_photo *flat = NULL;
    tdm_device *device = NULL;
    tdm_code code = tdm_photo_open(options->flat_field, &options->limits, sitting->warnings, &flat, error);
    if (code == TDM_OK)
        code = tdm_device_create(tdm_photo_about(flat), options->ignore_profile, options->flat_field,
                                 sitting->warnings, &device, error);
    if (code == TDM_OK)
        code = tdm_flat_field(device, flat, &sitting->calibration, about->width, about->height, at,
                              options->flat_field, sitting->warnings, out, error);
    tdm_device_free(device);
    tdm_photo_close(flat);
    return code;
}

/* Greys beside the target show how the light falls; a flat field shows it better. *used false: nothing known.
 */
static tdm_code known_light(tdm_sitting *sitting, const tdm_grey *greys, const double at[2], tdm_light *out,
                            bool *used, tdm_error *error)
{
    const tdm_photo_info *about = tdm_photo_about(sitting->photo);
    *used = sitting->options->flat_field != NULL;
    if (*used)
        return flat_light(sitting, at, out, error);
    if (sitting->marks.grey_count < 2)
        return TDM_OK;
    tdm_error own = {0};
    const tdm_code code = tdm_greys_light(sitting->device, &sitting->pixels, &sitting->calibration, greys,
                                          sitting->marks.grey_count, about->width, about->height, at,
                                          sitting->path, sitting->warnings, out, used, &own);
    /* The check of the greys will say so. */
    if (code == TDM_ERR_UNUSABLE)
        return TDM_OK;
    if (code != TDM_OK && error)
        *error = own;
    return code;
}

/* The target carries the reading: a card of no use is no reason to refuse it. */
tdm_code tdm_sitting_check_greys(tdm_sitting *sitting, const tdm_grey *greys, tdm_error *error)
{
    tdm_error own = {0};
    const tdm_code code = tdm_greys_check(sitting->device, &sitting->pixels, &sitting->calibration, greys,
                                          sitting->marks.grey_count, sitting->path, sitting->warnings, &own);
    if (code == TDM_ERR_UNUSABLE)
        return tdm_warn(sitting->warnings, error, "grey-unusable", NULL, "%s: %s", own.place, own.text);
    if (code != TDM_OK && error)
        *error = own;
    return code;
}

/* The light can only be read through the target's curve, and the curve is better for knowing the light:
 * twice. */
static tdm_code use_target(tdm_sitting *sitting, const tdm_grey *greys, tdm_error *error)
{
    tdm_warnings first = {0};
    tdm_light light = {0};
    double middle[2];
    bool used = false;
    middle_of(sitting->target.corners, middle);
    tdm_code code = fit_target(sitting, NULL, &first, error);
    tdm_warnings_free(&first);
    if (code == TDM_OK)
        code = known_light(sitting, greys, middle, &light, &used, error);
    if (code == TDM_OK)
        code = fit_target(sitting, used ? &light : NULL, sitting->warnings, error);
    sitting->has_results = code == TDM_OK;
    return code == TDM_OK && sitting->marks.grey_count > 0 ? tdm_sitting_check_greys(sitting, greys, error)
                                                           : code;
}

/* A target that nobody marked and that turns out to be of no use is no reason to refuse the photograph. */
static tdm_code try_target(tdm_sitting *sitting, const tdm_grey *greys, tdm_error *error)
{
    tdm_error own = {0};
    const tdm_code code = use_target(sitting, greys, &own);
    if (code == TDM_ERR_UNUSABLE && sitting->searched && strcmp(own.place, "target") == 0) {
        sitting->has_target = sitting->searched = false;
        return tdm_warn(sitting->warnings, error, "target-unusable", NULL,
                        "the target that was found can't be used: %s", own.text);
    }
    if (code != TDM_OK && error)
        *error = own;
    return code;
}

static tdm_code fit_greys(tdm_sitting *sitting, const tdm_grey *greys, const tdm_light *light,
                          tdm_warnings *warnings, tdm_error *error)
{
    const tdm_photo_info *about = tdm_photo_about(sitting->photo);
    return tdm_calibrate_grey(sitting->device, &sitting->pixels, greys, sitting->marks.grey_count,
                              about->width, about->height, light, sitting->path, warnings,
                              &sitting->calibration, error);
}

/* As with a target: the greys' curve is needed to read the card's photograph, and its light to fit them. */
static tdm_code greys_in_known_light(tdm_sitting *sitting, const tdm_grey *greys, tdm_error *error)
{
    tdm_warnings first = {0};
    tdm_light light = {0};
    tdm_code code = fit_greys(sitting, greys, NULL, &first, error);
    tdm_warnings_free(&first);
    if (code == TDM_OK)
        code = flat_light(sitting, sitting->calibration.middle, &light, error);
    if (code == TDM_OK)
        code = fit_greys(sitting, greys, &light, sitting->warnings, error);
    return code;
}

static tdm_code without_target(tdm_sitting *sitting, const tdm_grey *greys, tdm_error *error)
{
    const tdm_photo_info *about = tdm_photo_about(sitting->photo);
    const double middle[2] = {about->width / 2.0, about->height / 2.0};
    sitting->calibration = tdm_calibration_none(sitting->device);
    if (sitting->marks.grey_count > 0)
        return sitting->options->flat_field ? greys_in_known_light(sitting, greys, error)
                                            : fit_greys(sitting, greys, NULL, sitting->warnings, error);
    return sitting->options->flat_field ? flat_light(sitting, middle, &sitting->calibration.light, error)
                                        : TDM_OK;
}

static tdm_code fit(tdm_sitting *sitting, const tdm_grey *greys, tdm_error *error)
{
    const tdm_code code = sitting->has_target ? try_target(sitting, greys, error) : TDM_OK;
    return code == TDM_OK && !sitting->has_target ? without_target(sitting, greys, error) : code;
}

tdm_code tdm_sitting_calibrate(tdm_sitting *sitting, tdm_error *error)
{
    tdm_grey *greys = list_greys(&sitting->marks);
    tdm_code code = greys || sitting->marks.grey_count == 0 ? TDM_OK : tdm_fail_memory(error, sitting->path);
    if (code == TDM_OK && sitting->options->calibration)
        code = tdm_sitting_carry(sitting, greys, error);
    else if (code == TDM_OK)
        code = fit(sitting, greys, error);
    free(greys);
    return code;
}
