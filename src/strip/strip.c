/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "strip/strip.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "base/fail.h"
#include "colour/lab.h"
#include "strip/mask.h"
#include "strip/path.h"
#include "strip/tiles.h"

static const double cell_mm = 0.25;
static const double nominal_length = 200; /* of a path without a scale */
static const double sample_px = 0.5;      /* samples inside a cell lie at most this far apart */
enum { MOST_SAMPLES = 16 };               /* along each side of a cell */

enum reason { USED, OUTSIDE, EXCLUDED, TRANSPARENT, CLIPPED, BLACK, REASONS };

typedef struct layout {
    tdm_path path;
    tdm_rect rect;
    tdm_tiles tiles;
    uint8_t *mask;
    double cell_px;
    int samples; /* a side of a cell */
    double counts[REASONS];
} layout;

static double px_per_mm(const tdm_marks *marks)
{
    return marks->has_scale ? 1 / marks->mm_per_px : 1;
}

static uint32_t hold(double at, uint32_t limit)
{
    return at <= 0 ? 0 : at >= limit ? limit : (uint32_t)at;
}

/* Bounding box of the path and half of its width to each side, cut to the picture, at least one pixel. */
static tdm_rect path_rect(const tdm_path *path, uint32_t width, uint32_t height)
{
    double low[2] = {INFINITY, INFINITY}, high[2] = {-INFINITY, -INFINITY};
    for (size_t i = 0; i < path->count; i++) {
        const double reach = 0.5 * path->width[i] + 2;
        for (size_t k = 0; k < 2; k++) {
            low[k] = fmin(low[k], path->xy[2 * i + k] - reach);
            high[k] = fmax(high[k], path->xy[2 * i + k] + reach);
        }
    }
    const uint32_t left = hold(floor(low[0]), width - 1), top = hold(floor(low[1]), height - 1);
    const uint32_t right = hold(ceil(high[0]), width), bottom = hold(ceil(high[1]), height);
    return (tdm_rect){left, top, right > left ? right - left : 1, bottom > top ? bottom - top : 1};
}

tdm_code tdm_strip_rect(const tdm_marks *marks, size_t zone, tdm_rect *out, tdm_error *error)
{
    tdm_path path;
    const tdm_code code = tdm_path_make(&marks->zones[zone], px_per_mm(marks), &path, error);
    if (code != TDM_OK)
        return code;
    *out = path_rect(&path, marks->width, marks->height);
    tdm_path_free(&path);
    return TDM_OK;
}

static double mean_width(const tdm_path *path)
{
    double sum = 0;
    for (size_t i = 0; i < path->count; i++)
        sum += path->width[i];
    return sum / (double)path->count;
}

/* Sizes of the grid; its arrays come later. */
static tdm_code plan(const tdm_marks *marks, const tdm_zone_marks *zone, const tdm_limits *limits,
                     const char *file, const char *place, layout *how, tdm_strip *strip, tdm_error *error)
{
    const double length = tdm_path_length(&how->path), widest = tdm_path_widest(&how->path);
    const double unit =
        marks->has_scale ? marks->mm_per_px : nominal_length / length; /* of the strip, a px */
    strip->scaled = marks->has_scale;
    strip->cell = marks->has_scale ? fmax(cell_mm, unit) : unit;
    how->cell_px = strip->cell_px = strip->cell / unit;
    const double rows = floor(length / how->cell_px + 1e-9), cols = ceil(widest / how->cell_px - 1e-9);
    if (!(rows * cols <= (double)limits->strip_cells)) /* NaN too */
        return tdm_fail(error, TDM_ERR_LIMIT, file, place,
                        "would take %.0f cells and the limit is %" PRIu64 "; mark a smaller zone",
                        rows * cols, limits->strip_cells);
    strip->rows = rows < 1 ? 1 : (size_t)rows;
    strip->cols = cols < 1 ? 1 : (size_t)cols;
    strip->length = length * unit;
    strip->width = mean_width(&how->path) * unit;
    strip->root = marks->has_scale ? zone->root_mm : 0;
    const double samples = ceil(how->cell_px / sample_px);
    how->samples = samples < 1 ? 1 : samples > MOST_SAMPLES ? MOST_SAMPLES : (int)samples;
    return TDM_OK;
}

static enum reason why_not(unsigned flags)
{
    if (flags & TDM_PIXEL_TRANSPARENT)
        return TRANSPARENT;
    if (flags & TDM_PIXEL_CLIPPED)
        return CLIPPED;
    return flags & TDM_PIXEL_BLACK ? BLACK : USED;
}

/* One sample: the pixel that it falls in. */
static tdm_code take(layout *how, double x, double y, double sum[3], unsigned counts[REASONS],
                     tdm_error *error)
{
    const double left = floor(x) - how->rect.x, top = floor(y) - how->rect.y;
    if (!(left >= 0 && top >= 0 && left < how->rect.width && top < how->rect.height)) {
        counts[OUTSIDE]++;
        return TDM_OK;
    }
    const uint32_t column = (uint32_t)left, row = (uint32_t)top;
    if (how->mask && how->mask[(size_t)row * how->rect.width + column]) {
        counts[EXCLUDED]++;
        return TDM_OK;
    }
    const tdm_tile *tile = NULL;
    size_t at = 0;
    const tdm_code code = tdm_tiles_get(&how->tiles, column, row, &tile, &at, error);
    if (code != TDM_OK)
        return code;
    const enum reason reason = why_not(tile->flags[at]);
    counts[reason]++;
    for (size_t k = 0; reason == USED && k < 3; k++)
        sum[k] += (double)tile->xyz[3 * at + k];
    return TDM_OK;
}

/* Mean light of a square cell centred t from the path, aligned with the path's direction there. */
static tdm_code fill_cell(layout *how, const tdm_path_place *place, double t, tdm_strip *strip, size_t cell,
                          tdm_error *error)
{
    const int n = how->samples;
    double sum[3] = {0, 0, 0};
    unsigned counts[REASONS] = {0};
    for (int i = 0; i < n; i++) {
        for (int j = 0; j < n; j++) {
            const double along = ((i + 0.5) / n - 0.5) * how->cell_px,
                         across = t + ((j + 0.5) / n - 0.5) * how->cell_px;
            const tdm_code code = take(how, place->x + along * place->dx - across * place->dy,
                                       place->y + along * place->dy + across * place->dx, sum, counts, error);
            if (code != TDM_OK)
                return code;
        }
    }
    for (int reason = 0; reason < REASONS; reason++)
        how->counts[reason] += (double)counts[reason] / (n * n);
    strip->use[cell] = 2 * counts[USED] >= (unsigned)(n * n);
    for (size_t k = 0; counts[USED] > 0 && k < 3; k++)
        strip->xyz[3 * cell + k] = (float)(sum[k] / counts[USED]);
    return TDM_OK;
}

static tdm_code fill_row(layout *how, size_t row, tdm_strip *strip, double *inside, double *used,
                         tdm_error *error)
{
    const tdm_path_place place = tdm_path_at(&how->path, ((double)row + 0.5) * how->cell_px);
    for (size_t col = 0; col < strip->cols; col++) {
        const double t = ((double)col + 0.5 - 0.5 * (double)strip->cols) * how->cell_px;
        if (fabs(t) > 0.5 * place.width)
            continue;
        const size_t cell = row * strip->cols + col;
        const tdm_code code = fill_cell(how, &place, t, strip, cell, error);
        if (code != TDM_OK)
            return code;
        *inside += 1;
        *used += strip->use[cell];
    }
    return TDM_OK;
}

static tdm_code fill(layout *how, const char *file, const char *place, tdm_strip *strip, tdm_error *error)
{
    const size_t cells = strip->rows * strip->cols;
    double inside = 0, used = 0;
    strip->xyz = calloc(3 * cells, sizeof *strip->xyz);
    strip->lab = calloc(3 * cells, sizeof *strip->lab);
    strip->use = calloc(cells, sizeof *strip->use);
    if (!strip->xyz || !strip->lab || !strip->use)
        return tdm_fail_memory(error, file);
    for (size_t row = 0; row < strip->rows; row++) {
        const tdm_code code = fill_row(how, row, strip, &inside, &used, error);
        if (code != TDM_OK)
            return code;
    }
    if (used == 0)
        return tdm_fail(
            error, TDM_ERR_UNUSABLE, file, place,
            "has no pixel that can be used: all of it is excluded, burnt out, black, transparent or off the "
            "picture");
    tdm_xyz_to_lab_many(strip->xyz, strip->lab, cells);
    strip->used_share = used / inside;
    strip->outside_share = how->counts[OUTSIDE] / inside;
    strip->excluded_share = how->counts[EXCLUDED] / inside;
    strip->transparent_share = how->counts[TRANSPARENT] / inside;
    strip->clipped_share = how->counts[CLIPPED] / inside;
    strip->black_share = how->counts[BLACK] / inside;
    return TDM_OK;
}

tdm_code tdm_strip_make(const tdm_device *device, const tdm_calibration *calibration,
                        const tdm_pixels *pixels, const tdm_marks *marks, size_t zone,
                        const tdm_limits *limits, const char *file, tdm_strip *out, tdm_error *error)
{
    char place[32];
    (void)snprintf(place, sizeof place, "zones[%zu]", zone);
    layout how = {.cell_px = 1};
    tdm_strip strip = {0};
    tdm_code code = tdm_path_make(&marks->zones[zone], px_per_mm(marks), &how.path, error);
    if (code == TDM_OK) {
        how.rect = path_rect(&how.path, marks->width, marks->height);
        code = plan(marks, &marks->zones[zone], limits, file, place, &how, &strip, error);
    }
    if (code == TDM_OK)
        code = tdm_mask_make(marks, how.rect, &how.mask, error);
    if (code == TDM_OK)
        code = tdm_tiles_make(device, calibration, pixels, how.rect, &how.tiles, error);
    if (code == TDM_OK)
        code = fill(&how, file, place, &strip, error);
    tdm_tiles_free(&how.tiles);
    free(how.mask);
    tdm_path_free(&how.path);
    if (code == TDM_OK)
        *out = strip;
    else
        tdm_strip_free(&strip);
    return code;
}

void tdm_strip_free(tdm_strip *strip)
{
    free(strip->xyz);
    free(strip->lab);
    free(strip->use);
    *strip = (tdm_strip){0};
}
