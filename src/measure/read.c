/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From a photograph and its marks to a reading. */
#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "base/file.h"
#include "measure/head.h"
#include "measure/quality.h"
#include "measure/reading_parts.h"
#include "measure/zone.h"

typedef struct work {
    const char *path;
    const tdm_read_options *options;
    tdm_photo *photo;
    tdm_marks marks;
    tdm_device *device;
    tdm_pixels pixels;
    tdm_reference reference;
    tdm_patch_result results[TDM_PATCHES];
    tdm_reading *reading;
} work;

tdm_read_options tdm_read_options_default(void)
{
    return (tdm_read_options){.limits = tdm_limits_default(), .resamples = 200, .seed = 1};
}

static tdm_code open_photo(work *job, tdm_error *error)
{
    tdm_reading *reading = job->reading;
    tdm_code code = tdm_photo_open(job->path, &job->options->limits, &reading->warnings, &job->photo, error);
    if (code != TDM_OK)
        return code;
    const tdm_photo_info *about = tdm_photo_about(job->photo);
    reading->file = strdup(tdm_file_name(job->path));
    memcpy(reading->sha256, about->sha256, sizeof reading->sha256);
    memcpy(reading->taken, about->taken, sizeof reading->taken);
    reading->width = about->width;
    reading->height = about->height;
    return reading->file ? TDM_OK : tdm_fail_memory(error, job->path);
}

static tdm_code load_marks(work *job, const char *marks_path, tdm_error *error)
{
    char *beside = marks_path ? NULL : tdm_marks_path(job->path);
    if (!marks_path && !beside)
        return tdm_fail_memory(error, job->path);
    const tdm_code code =
        tdm_marks_load(marks_path ? marks_path : beside, job->reading->width, job->reading->height,
                       &job->options->limits, &job->reading->warnings, &job->marks, error);
    free(beside);
    for (size_t i = 0; code == TDM_OK && !job->marks.has_scale && i < job->marks.zone_count; i++) {
        char place[64];
        (void)snprintf(place, sizeof place, "zones[%zu].width_mm", i);
        if (job->marks.zones[i].width_in_mm)
            return tdm_fail(error, TDM_ERR_FORMAT, job->path, place,
                            "needs a scale; mark one, or give width_px");
    }
    job->reading->mm_per_px = job->marks.has_scale ? job->marks.mm_per_px : NAN;
    return code;
}

static tdm_code choose_colour(work *job, tdm_error *error)
{
    const tdm_code code = tdm_device_create(tdm_photo_about(job->photo), job->options->ignore_profile,
                                            job->path, &job->reading->warnings, &job->device, error);
    if (code != TDM_OK)
        return code;
    job->reading->profile_source = tdm_device_source(job->device);
    job->reading->profile = strdup(tdm_device_profile(job->device));
    return job->reading->profile ? TDM_OK : tdm_fail_memory(error, job->path);
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

/* One decode of the rectangle that holds everything marked. */
static tdm_code decode(work *job, tdm_error *error)
{
    const tdm_marks *marks = &job->marks;
    const uint32_t width = job->reading->width, height = job->reading->height;
    tdm_rect whole = {0};
    if (marks->has_target)
        grow(&whole, tdm_polygon_rect(marks->corners, 4, width, height));
    for (size_t i = 0; i < marks->grey_count; i++)
        grow(&whole,
             tdm_polygon_rect(marks->greys[i].polygon.xy, marks->greys[i].polygon.count, width, height));
    for (size_t i = 0; i < marks->zone_count; i++) {
        tdm_rect part;
        const tdm_code code = tdm_strip_rect(marks, i, &part, error);
        if (code != TDM_OK)
            return code;
        grow(&whole, part);
    }
    return tdm_photo_read(job->photo, whole, &job->pixels, error);
}

static tdm_code calibrate_grey(work *job, tdm_error *error)
{
    const tdm_marks *marks = &job->marks;
    tdm_grey *greys = calloc(marks->grey_count, sizeof *greys);
    if (!greys)
        return tdm_fail_memory(error, job->path);
    for (size_t i = 0; i < marks->grey_count; i++)
        greys[i] = (tdm_grey){.polygon = marks->greys[i].polygon.xy,
                              .count = marks->greys[i].polygon.count,
                              .lstar = marks->greys[i].lstar};
    const tdm_code code = tdm_calibrate_grey(job->device, &job->pixels, greys, marks->grey_count,
                                             job->reading->width, job->reading->height, NULL, job->path,
                                             &job->reading->warnings, &job->reading->calibration, error);
    free(greys);
    return code;
}

static tdm_quality_input quality_input(const work *job)
{
    const bool target = job->marks.has_target;
    return (tdm_quality_input){.device = job->device,
                               .pixels = &job->pixels,
                               .photo = tdm_photo_about(job->photo),
                               .marks = &job->marks,
                               .corners = target ? job->marks.corners : NULL,
                               .calibration = &job->reading->calibration,
                               .results = target ? job->results : NULL,
                               .reference = &job->reference,
                               .mm_per_px = job->reading->mm_per_px};
}

/* A target says more than a grey card; without either the profile alone stands, with wider uncertainty. */
static tdm_code calibrate(work *job, tdm_error *error)
{
    tdm_code code = TDM_OK;
    job->reference = tdm_reference_published();
    if (job->marks.has_target)
        code = tdm_calibrate_target(job->device, &job->pixels, job->marks.corners, &job->reference, NULL,
                                    job->path, &job->reading->warnings, &job->reading->calibration,
                                    job->results, error);
    else if (job->marks.grey_count > 0)
        code = calibrate_grey(job, error);
    else
        job->reading->calibration = tdm_calibration_none(job->device);
    const tdm_quality_input input = quality_input(job);
    if (code == TDM_OK)
        code = tdm_quality_photo(&input, &job->reading->quality, &job->reading->warnings, error);
    return code;
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

static tdm_code read_zone(work *job, size_t index, double *area, tdm_error *error)
{
    tdm_reading *reading = job->reading;
    struct tdm_zone_reading *zone = &reading->zones[index];
    tdm_strip strip = {0};
    tdm_error own = {0};
    const tdm_sources sources = {.lstar = reading->calibration.u_lstar};
    bool carries = false;
    tdm_code code = tdm_strip_make(job->device, &reading->calibration, &job->pixels, &job->marks, index,
                                   &job->options->limits, job->path, &strip, &own);
    if (code != TDM_OK)
        return forgive(code, zone->name, &reading->warnings, &own, error);
    const tdm_quality_input input = quality_input(job);
    code = tdm_quality_zone(&input, index, &strip, &reading->quality, &reading->warnings, &carries, &own);
    if (code == TDM_OK && carries)
        code =
            tdm_zone_measure(&strip, &sources, &reading->scale, job->options, zone, &reading->warnings, &own);
    if (code == TDM_OK && carries) {
        *area = strip.length * strip.width * strip.used_share;
        reading->usable = !reading->quality.unusable;
    }
    tdm_strip_free(&strip);
    return forgive(code, zone->name, &reading->warnings, &own, error);
}

static tdm_code read_zones(work *job, tdm_error *error)
{
    tdm_reading *reading = job->reading;
    const size_t count = job->marks.zone_count;
    reading->zones = calloc(count, sizeof *reading->zones);
    double *areas = calloc(count, sizeof *areas);
    tdm_code code = reading->zones && areas ? TDM_OK : tdm_fail_memory(error, job->path);
    for (size_t i = 0; code == TDM_OK && i < count; i++) {
        reading->zone_count = i + 1;
        code = name_zone(&job->marks.zones[i], &reading->zones[i], error);
        if (code == TDM_OK)
            code = read_zone(job, i, &areas[i], error);
    }
    if (code == TDM_OK)
        code = tdm_head_make(reading->zones, areas, count, &reading->scale, &reading->head, error);
    free(areas);
    return code;
}

static tdm_code read_all(work *job, const char *marks_path, tdm_error *error)
{
    tdm_code code = open_photo(job, error);
    if (code == TDM_OK)
        code = load_marks(job, marks_path, error);
    if (code == TDM_OK)
        code = choose_colour(job, error);
    if (code == TDM_OK)
        code = decode(job, error);
    if (code == TDM_OK)
        code = calibrate(job, error);
    if (code == TDM_OK)
        code = read_zones(job, error);
    return code;
}

static tdm_code check_options(const tdm_read_options *options, tdm_error *error)
{
    if (options->resamples < 50 || options->resamples > 2000)
        return tdm_fail(error, TDM_ERR_USAGE, NULL, "resamples", "must be 50 to 2000");
    return TDM_OK;
}

tdm_code tdm_read_photo(const char *photo_path, const char *marks_path, const tdm_read_options *options,
                        tdm_reading **out, tdm_error *error)
{
    const tdm_read_options defaults = tdm_read_options_default();
    work job = {.path = photo_path, .options = options ? options : &defaults};
    tdm_code code = check_options(job.options, error);
    if (code != TDM_OK)
        return code;
    /* GSL's own handler would end the program; every GSL result is looked at instead. */
    (void)gsl_set_error_handler_off();
    job.reading = calloc(1, sizeof *job.reading);
    if (!job.reading)
        return tdm_fail_memory(error, photo_path);
    tdm_zone_reading_init(&job.reading->head);
    job.reading->scale = tdm_level_scale_default();
    code = read_all(&job, marks_path, error);
    tdm_pixels_free(&job.pixels);
    tdm_device_free(job.device);
    tdm_marks_free(&job.marks);
    tdm_photo_close(job.photo);
    if (code == TDM_OK)
        *out = job.reading;
    else
        tdm_reading_free(job.reading);
    return code;
}
