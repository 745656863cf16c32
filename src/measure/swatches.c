/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From a photograph of a swatch ring to a reading of it. */
#include <gsl/gsl_errno.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "base/file.h"
#include "measure/sitting.h"
#include "measure/sources.h"
#include "measure/swatches_parts.h"

static tdm_code note_photo(const tdm_sitting *sitting, struct tdm_swatches *swatches, tdm_error *error)
{
    const tdm_photo_info *about = tdm_photo_about(sitting->photo);
    memcpy(swatches->sha256, about->sha256, sizeof swatches->sha256);
    memcpy(swatches->taken, about->taken, sizeof swatches->taken);
    swatches->width = about->width;
    swatches->height = about->height;
    swatches->profile_source = tdm_device_source(sitting->device);
    swatches->file = strdup(tdm_file_name(sitting->path));
    swatches->profile = strdup(tdm_device_profile(sitting->device));
    return swatches->file && swatches->profile ? TDM_OK : tdm_fail_memory(error, sitting->path);
}

/* A level by the profile alone would be off by several levels (Vaughn et al. 2009). */
static tdm_code check_light(const tdm_sitting *sitting, tdm_error *error)
{
    if (sitting->carried || sitting->calibration.method != TDM_CALIBRATION_ICC)
        return TDM_OK;
    return tdm_fail(error, TDM_ERR_UNUSABLE, sitting->path, "target",
                    "no target was found and no grey card is marked: photograph the swatches with one, or "
                    "give the calibration of another photograph in the same light");
}

static void middle_of(const tdm_polyline *polygon, double middle[2])
{
    middle[0] = middle[1] = 0;
    for (size_t i = 0; i < 2 * polygon->count; i++)
        middle[i % 2] += polygon->xy[i] / (double)polygon->count;
}

/* Another photograph's target lay half a diagonal away, as far as is known. */
static double stops_at(const tdm_sitting *sitting, const tdm_polyline *polygon)
{
    const tdm_photo_info *about = tdm_photo_about(sitting->photo);
    const double corner[2] = {0, 0}, centre[2] = {about->width / 2.0, about->height / 2.0};
    double middle[2];
    middle_of(polygon, middle);
    return sitting->carried ? tdm_sources_stops(sitting, corner, centre)
                            : tdm_sources_stops(sitting, sitting->calibration.middle, middle);
}

static tdm_code measure(const tdm_sitting *sitting, struct tdm_swatches *swatches, tdm_error *error)
{
    const tdm_marks *marks = &sitting->marks;
    tdm_sources sources[TDM_SWATCHES];
    for (size_t i = 0; i < marks->swatch_count && i < TDM_SWATCHES; i++)
        sources[i] = (tdm_sources){.lstar = sitting->calibration.u_lstar,
                                   .stops = stops_at(sitting, &marks->swatches[i].polygon)};
    return tdm_swatches_measure(sitting->device, &sitting->calibration, &sitting->pixels, marks, sources,
                                sitting->path, swatches, error);
}

static tdm_code read_all(const tdm_sitting *sitting, struct tdm_swatches *swatches, tdm_error *error)
{
    tdm_code code = note_photo(sitting, swatches, error);
    if (code == TDM_OK)
        code = check_light(sitting, error);
    return code == TDM_OK ? measure(sitting, swatches, error) : code;
}

tdm_code tdm_read_swatches(const char *photo_path, const char *marks_path, const tdm_read_options *options,
                           tdm_swatches **out, tdm_error *error)
{
    const tdm_read_options defaults = tdm_read_options_default();
    tdm_sitting sitting = {0};
    struct tdm_swatches *swatches = calloc(1, sizeof *swatches);
    if (!swatches)
        return tdm_fail_memory(error, photo_path);
    /* GSL's own handler would end the program; every GSL result is looked at instead. */
    (void)gsl_set_error_handler_off();
    tdm_code code = tdm_sitting_open(&sitting, photo_path, marks_path, true, options ? options : &defaults,
                                     &swatches->warnings, error);
    if (code == TDM_OK)
        code = read_all(&sitting, swatches, error);
    tdm_sitting_close(&sitting);
    if (code == TDM_OK)
        *out = swatches;
    else
        tdm_swatches_free(swatches);
    return code;
}
