/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "colour/sample.h"

#include <math.h>
#include <stdlib.h>

#include "base/fail.h"
#include "colour/matrix.h"

static const double trim = 0.1; /* of the values, left out at either end */
enum { MOST = 1 << 18 };        /* pixels looked at in one area */

/* Even-odd rule. */
static bool inside(const double *polygon, size_t count, double x, double y)
{
    bool in = false;
    for (size_t i = 0, j = count - 1; i < count; j = i++) {
        const double xi = polygon[2 * i], yi = polygon[2 * i + 1];
        const double xj = polygon[2 * j], yj = polygon[2 * j + 1];
        if ((yi > y) != (yj > y) && x < xi + (y - yi) / (yj - yi) * (xj - xi))
            in = !in;
    }
    return in;
}

static uint32_t held(double value, uint32_t top)
{
    return value > 0 ? (value < top ? (uint32_t)value : top) : 0;
}

tdm_rect tdm_polygon_rect(const double *polygon, size_t count, uint32_t width, uint32_t height)
{
    double left = INFINITY, top = INFINITY, right = -INFINITY, bottom = -INFINITY;
    for (size_t i = 0; i < count; i++) {
        left = fmin(left, polygon[2 * i]);
        right = fmax(right, polygon[2 * i]);
        top = fmin(top, polygon[2 * i + 1]);
        bottom = fmax(bottom, polygon[2 * i + 1]);
    }
    const uint32_t x = held(floor(left), width), y = held(floor(top), height);
    const uint32_t x_end = held(ceil(right), width), y_end = held(ceil(bottom), height);
    if (x_end <= x || y_end <= y)
        return (tdm_rect){x, y, 0, 0};
    return (tdm_rect){x, y, x_end - x, y_end - y};
}

static tdm_rect overlap(tdm_rect a, tdm_rect b)
{
    const uint32_t x = a.x > b.x ? a.x : b.x, y = a.y > b.y ? a.y : b.y;
    const uint32_t x_end = a.x + a.width < b.x + b.width ? a.x + a.width : b.x + b.width;
    const uint32_t y_end = a.y + a.height < b.y + b.height ? a.y + a.height : b.y + b.height;
    if (x_end <= x || y_end <= y)
        return (tdm_rect){x, y, 0, 0};
    return (tdm_rect){x, y, x_end - x, y_end - y};
}

/* What one area's sampling works with; one block of memory. */
typedef struct sampling {
    float *values[3]; /* room for `room` values a channel */
    float *row_xyz;
    uint8_t *row_flags;
    size_t room, used, clipped;
} sampling;

static bool start_sampling(sampling *work, size_t room, size_t width)
{
    *work = (sampling){.room = room};
    float *block = malloc((3 * room + 3 * width) * sizeof *block + width);
    if (!block)
        return false;
    for (size_t c = 0; c < 3; c++)
        work->values[c] = block + c * room;
    work->row_xyz = block + 3 * room;
    work->row_flags = (uint8_t *)(work->row_xyz + 3 * width);
    return true;
}

static void take_pixel(sampling *work, const double to_rgb[9], size_t column)
{
    const uint8_t flags = work->row_flags[column];
    if ((flags & TDM_PIXEL_TRANSPARENT) != 0 || work->used == work->room)
        return;
    const float *xyz = work->row_xyz + 3 * column;
    const double in[3] = {(double)xyz[0], (double)xyz[1], (double)xyz[2]};
    double rgb[3];
    tdm_matrix_apply(to_rgb, in, rgb);
    for (int c = 0; c < 3; c++)
        work->values[c][work->used] = (float)rgb[c];
    work->used++;
    work->clipped += (flags & TDM_PIXEL_CLIPPED) != 0;
}

static int compare_floats(const void *a, const void *b)
{
    const float x = *(const float *)a, y = *(const float *)b;
    return (x > y) - (x < y);
}

static double trimmed_mean(float *values, size_t count)
{
    const size_t cut = (size_t)(trim * (double)count);
    double sum = 0;
    if (count == 0)
        return NAN;
    qsort(values, count, sizeof *values, compare_floats);
    for (size_t i = cut; i < count - cut; i++)
        sum += (double)values[i];
    return sum / (double)(count - 2 * cut);
}

tdm_code tdm_sample_polygon(const tdm_device *device, const tdm_pixels *pixels, const double *polygon,
                            size_t count, tdm_sample *out, tdm_error *error)
{
    const tdm_rect rect = overlap(tdm_polygon_rect(polygon, count, UINT32_MAX, UINT32_MAX), pixels->rect);
    const double area = (double)rect.width * rect.height;
    const uint32_t step = area > MOST ? (uint32_t)ceil(sqrt(area / MOST)) : 1;
    const tdm_calibration none = tdm_calibration_none(device);
    sampling work;
    *out = (tdm_sample){.rgb = {NAN, NAN, NAN}};
    if (area == 0)
        return TDM_OK;
    const size_t room = ((size_t)rect.width / step + 1) * ((size_t)rect.height / step + 1);
    if (!start_sampling(&work, room, rect.width))
        return tdm_fail_memory(error, NULL);
    tdm_code code = TDM_OK;
    for (uint32_t y = 0; code == TDM_OK && y < rect.height; y += step) {
        const tdm_rect line = {rect.x, rect.y + y, rect.width, 1};
        code = tdm_colour_convert(device, &none, pixels, line, work.row_xyz, work.row_flags, error);
        for (uint32_t x = 0; code == TDM_OK && x < rect.width; x += step) {
            if (inside(polygon, count, rect.x + x + 0.5, rect.y + y + 0.5))
                take_pixel(&work, none.to_rgb, x);
        }
    }
    out->used = work.used;
    for (int c = 0; code == TDM_OK && c < 3; c++)
        out->rgb[c] = trimmed_mean(work.values[c], work.used);
    if (work.used > 0)
        out->clipped_share = (double)work.clipped / (double)work.used;
    free(work.values[0]);
    return code;
}
