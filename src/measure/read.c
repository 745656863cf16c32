/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From a photograph and its marks to a reading. */
#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "base/file.h"
#include "measure/head.h"
#include "measure/quality.h"
#include "measure/read.h"
#include "measure/regrowth.h"
#include "measure/sources.h"
#include "measure/zone.h"

tdm_read_options tdm_read_options_default(void)
{
    return (tdm_read_options){.limits = tdm_limits_default(), .resamples = 200, .seed = 1};
}

static tdm_code note_photo(const tdm_sitting *sitting, tdm_reading *reading, tdm_error *error)
{
    const tdm_photo_info *about = tdm_photo_about(sitting->photo);
    reading->file = strdup(tdm_file_name(sitting->path));
    memcpy(reading->sha256, about->sha256, sizeof reading->sha256);
    memcpy(reading->taken, about->taken, sizeof reading->taken);
    reading->width = about->width;
    reading->height = about->height;
    reading->profile_source = tdm_device_source(sitting->device);
    reading->profile = strdup(tdm_device_profile(sitting->device));
    return reading->file && reading->profile ? TDM_OK : tdm_fail_memory(error, sitting->path);
}

static void note_calibration(const tdm_sitting *sitting, tdm_reading *reading)
{
    reading->mm_per_px = sitting->mm_per_px;
    reading->scale_source = sitting->scale_source;
    reading->calibration = sitting->calibration;
    reading->scale = sitting->level_scale;
    if (sitting->carried)
        memcpy(reading->from, sitting->origin.photo, sizeof reading->from);
}

static tdm_quality_input quality_input(const tdm_sitting *sitting)
{
    return (tdm_quality_input){.device = sitting->device,
                               .pixels = &sitting->pixels,
                               .photo = tdm_photo_about(sitting->photo),
                               .marks = &sitting->marks,
                               .corners = sitting->has_target ? sitting->target.corners : NULL,
                               .calibration = &sitting->calibration,
                               .results = sitting->has_results ? sitting->results : NULL,
                               .reference = &sitting->reference,
                               .mm_per_px = sitting->mm_per_px};
}

static tdm_code name_zone(const tdm_zone_marks *marks, struct tdm_zone_reading *zone, tdm_error *error)
{
    tdm_zone_reading_init(zone);
    zone->weight = marks->weight;
    zone->name = strdup(marks->name);
    zone->side = marks->side ? strdup(marks->side) : NULL;
    return zone->name && (!marks->side || zone->side) ? TDM_OK : tdm_fail_memory(error, NULL);
}

/* A zone that can't be read is no reason to lose the others: its figures stay null and a warning says why. */
static tdm_code forgive(tdm_code code, const char *zone, tdm_warnings *warnings, tdm_error *own,
                        tdm_error *error)
{
    if (code == TDM_ERR_UNUSABLE)
        return tdm_warn(warnings, error, "zone-unusable", zone, "%s", own->text);
    if (code != TDM_OK && error)
        *error = *own;
    return code;
}

static tdm_code show(const tdm_read_watch *watch, const tdm_reading *reading, size_t index,
                     const tdm_strip *strip, tdm_error *error)
{
    return watch ? watch->zone(watch->to, reading, index, strip, error) : TDM_OK;
}

static tdm_code read_zone(const tdm_sitting *sitting, const tdm_read_watch *watch, size_t index,
                          tdm_reading *reading, double *area, tdm_error *error)
{
    struct tdm_zone_reading *zone = &reading->zones[index];
    tdm_warnings *warnings = &reading->warnings;
    tdm_strip strip = {0};
    tdm_error own = {0};
    bool carries = false;
    tdm_code code = tdm_strip_make(sitting->device, &sitting->calibration, &sitting->pixels, &sitting->marks,
                                   index, &sitting->options->limits, sitting->path, &strip, &own);
    if (code != TDM_OK)
        return forgive(code, zone->name, warnings, &own, error);
    const tdm_quality_input input = quality_input(sitting);
    const tdm_sources sources = tdm_sources_at(sitting, index);
    code = tdm_quality_zone(&input, index, &strip, &reading->quality, warnings, &carries, &own);
    if (code == TDM_OK && carries)
        code = tdm_zone_measure(&strip, &sources, &reading->scale, sitting->options, zone, warnings, &own);
    if (code == TDM_OK && carries)
        code = tdm_regrowth_measure(reading->days, zone, warnings, &own);
    if (code == TDM_OK && carries) {
        *area = strip.length * strip.width * strip.used_share;
        reading->usable = !reading->quality.unusable;
        code = show(watch, reading, index, &strip, &own);
    }
    tdm_strip_free(&strip);
    return forgive(code, zone->name, warnings, &own, error);
}

static tdm_code read_zones(const tdm_sitting *sitting, const tdm_read_watch *watch, tdm_reading *reading,
                           tdm_error *error)
{
    const size_t count = sitting->marks.zone_count;
    reading->zones = calloc(count, sizeof *reading->zones);
    double *areas = calloc(count, sizeof *areas);
    tdm_code code = reading->zones && areas ? TDM_OK : tdm_fail_memory(error, sitting->path);
    for (size_t i = 0; code == TDM_OK && i < count; i++) {
        reading->zone_count = i + 1;
        code = name_zone(&sitting->marks.zones[i], &reading->zones[i], error);
        if (code == TDM_OK)
            code = read_zone(sitting, watch, i, reading, &areas[i], error);
    }
    if (code == TDM_OK)
        code = tdm_head_make(reading->zones, areas, count, &reading->scale, &reading->head, error);
    free(areas);
    return code;
}

static tdm_code read_all(const tdm_sitting *sitting, const tdm_read_watch *watch, tdm_reading *reading,
                         tdm_error *error)
{
    const tdm_quality_input input = quality_input(sitting);
    if (sitting->marks.zone_count == 0)
        return tdm_fail(error, TDM_ERR_FORMAT, sitting->marks_path, "zones",
                        "is missing or empty; mark at least one zone");
    tdm_code code = note_photo(sitting, reading, error);
    note_calibration(sitting, reading);
    if (code == TDM_OK)
        code = tdm_regrowth_dates(sitting->options, sitting->path, reading, error);
    if (code == TDM_OK)
        code = tdm_quality_photo(&input, &reading->quality, &reading->warnings, error);
    if (code == TDM_OK)
        code = read_zones(sitting, watch, reading, error);
    if (code == TDM_OK && watch && watch->photo)
        code = watch->photo(watch->to, reading, sitting, error);
    return code;
}

static tdm_code check_options(const tdm_read_options *options, tdm_error *error)
{
    if (options->resamples < 50 || options->resamples > 2000)
        return tdm_fail(error, TDM_ERR_USAGE, NULL, "resamples", "must be 50 to 2000");
    return tdm_regrowth_check(options, error);
}

tdm_code tdm_read_watched(const char *photo_path, const char *marks_path, const tdm_read_options *options,
                          const tdm_read_watch *watch, tdm_reading **out, tdm_error *error)
{
    const tdm_read_options defaults = tdm_read_options_default();
    tdm_sitting sitting = {0};
    tdm_code code = check_options(options ? options : &defaults, error);
    if (code != TDM_OK)
        return code;
    /* GSL's own handler would end the program; every GSL result is looked at instead. */
    (void)gsl_set_error_handler_off();
    tdm_reading *reading = calloc(1, sizeof *reading);
    if (!reading)
        return tdm_fail_memory(error, photo_path);
    tdm_zone_reading_init(&reading->head);
    code = tdm_sitting_open(&sitting, photo_path, marks_path, true, options ? options : &defaults,
                            &reading->warnings, error);
    if (code == TDM_OK)
        code = read_all(&sitting, watch, reading, error);
    tdm_sitting_close(&sitting);
    if (code == TDM_OK)
        *out = reading;
    else
        tdm_reading_free(reading);
    return code;
}

tdm_code tdm_read_photo(const char *photo_path, const char *marks_path, const tdm_read_options *options,
                        tdm_reading **out, tdm_error *error)
{
    return tdm_read_watched(photo_path, marks_path, options, NULL, out, error);
}
