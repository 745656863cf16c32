/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdlib.h>

#include "base/fail.h"
#include "report/overlay.h"
#include "report/page.h"

enum { MOST = 1600, LEAST = MOST / 2 }; /* pixels on the picture's longer side */

/* Rows of the photograph that make one row of the picture. */
typedef struct reducing {
    const tdm_device *device;
    const tdm_calibration *calibration;
    const tdm_pixels *pixels;
    tdm_rect rect;
    const char *file;
    uint32_t factor, width; /* pixels averaged a side; pixels of the reduced row */
    float *xyz;
    uint8_t *flags;
    double *sum; /* 3 a pixel of the reduced row */
} reducing;

static bool start(reducing *work)
{
    const size_t width = work->rect.width;
    work->width = work->rect.width / work->factor;
    work->xyz = malloc(3 * width * sizeof *work->xyz);
    work->flags = malloc(width);
    work->sum = malloc(3 * width * sizeof *work->sum);
    return work->xyz && work->flags && work->sum;
}

static void finish(reducing *work)
{
    free(work->xyz);
    free(work->flags);
    free(work->sum);
}

/* Mean linear light of a block of pixels, into sum. */
static tdm_code reduce(reducing *work, uint32_t row, tdm_error *error)
{
    const tdm_rect rect = work->rect;
    const double share = 1 / ((double)work->factor * work->factor);
    for (size_t i = 0; i < 3 * (size_t)work->width; i++)
        work->sum[i] = 0;
    for (uint32_t y = 0; y < work->factor; y++) {
        const tdm_rect line = {rect.x, rect.y + row * work->factor + y, rect.width, 1};
        const tdm_code code = tdm_colour_convert(work->device, work->calibration, work->pixels, line,
                                                 work->xyz, work->flags, error);
        if (code != TDM_OK)
            return code;
        for (size_t x = 0; x < (size_t)work->width * work->factor; x++) {
            for (size_t c = 0; c < 3; c++)
                work->sum[3 * (x / work->factor) + c] += share * (double)work->xyz[3 * x + c];
        }
    }
    return TDM_OK;
}

/* One reduced row as `times` rows of the picture. */
static void put_row(const reducing *work, uint32_t row, uint32_t times, cairo_surface_t *surface)
{
    unsigned char *data = cairo_image_surface_get_data(surface);
    const size_t stride = (size_t)cairo_image_surface_get_stride(surface);
    for (uint32_t x = 0; x < work->width * times; x++) {
        unsigned rgb[3];
        tdm_xyz_to_srgb8(work->sum + 3 * (size_t)(x / times), rgb);
        const uint32_t value = rgb[0] << 16 | rgb[1] << 8 | rgb[2];
        for (uint32_t y = 0; y < times; y++) {
            uint32_t *line = (uint32_t *)(void *)(data + (size_t)(row * times + y) * stride);
            line[x] = value;
        }
    }
}

static tdm_code fill(reducing *work, uint32_t times, cairo_surface_t *surface, tdm_error *error)
{
    tdm_code code = start(work) ? TDM_OK : tdm_fail_memory(error, work->file);
    cairo_surface_flush(surface);
    for (uint32_t row = 0; code == TDM_OK && row < work->rect.height / work->factor; row++) {
        code = reduce(work, row, error);
        if (code == TDM_OK)
            put_row(work, row, times, surface);
    }
    cairo_surface_mark_dirty(surface);
    finish(work);
    return code;
}

tdm_code tdm_overlay_photo(const tdm_device *device, const tdm_calibration *calibration,
                           const tdm_pixels *pixels, tdm_rect rect, const char *file, tdm_overlay *out,
                           tdm_error *error)
{
    const uint32_t longer = rect.width > rect.height ? rect.width : rect.height;
    const uint32_t factor = (longer + MOST - 1) / MOST;
    const uint32_t times = longer > 0 && longer < LEAST ? (LEAST + longer - 1) / longer : 1;
    if (longer == 0 || rect.width < factor || rect.height < factor)
        return tdm_fail(error, TDM_ERR_UNUSABLE, file, NULL, "no picture of it was kept");
    reducing work = {.device = device,
                     .calibration = calibration,
                     .pixels = pixels,
                     .rect = rect,
                     .file = file,
                     .factor = factor};
    cairo_surface_t *surface = cairo_image_surface_create(
        CAIRO_FORMAT_RGB24, (int)(rect.width / factor * times), (int)(rect.height / factor * times));
    if (cairo_surface_status(surface) != CAIRO_STATUS_SUCCESS) {
        cairo_surface_destroy(surface);
        return tdm_fail_memory(error, file);
    }
    const tdm_code code = fill(&work, times, surface, error);
    if (code != TDM_OK) {
        cairo_surface_destroy(surface);
        return code;
    }
    *out = (tdm_overlay){
        .surface = surface, .left = rect.x, .top = rect.y, .scale = (double)times / (double)factor};
    return TDM_OK;
}

tdm_code tdm_overlay_picture(const tdm_target_reading *target, tdm_overlay *out, tdm_error *error)
{
    const tdm_calibration none = tdm_calibration_none(target->device);
    return tdm_overlay_photo(target->device, &none, &target->crop, target->crop.rect, target->file, out,
                             error);
}
