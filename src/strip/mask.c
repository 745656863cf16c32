/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "strip/mask.h"

#include <math.h>
#include <stdlib.h>

#include "base/fail.h"

/* First pixel whose centre lies at or beyond a coordinate, held to 0 … limit. */
static uint32_t first_centre(double at, uint32_t limit)
{
    const double pixel = ceil(at - 0.5);
    return pixel <= 0 ? 0 : pixel >= limit ? limit : (uint32_t)pixel;
}

/* Part of the rectangle that a polygon may touch, in the rectangle's own pixels. */
static tdm_rect polygon_part(const tdm_polyline *polygon, tdm_rect rect)
{
    double low[2] = {INFINITY, INFINITY}, high[2] = {-INFINITY, -INFINITY};
    for (size_t i = 0; i < polygon->count; i++) {
        for (size_t k = 0; k < 2; k++) {
            low[k] = fmin(low[k], polygon->xy[2 * i + k]);
            high[k] = fmax(high[k], polygon->xy[2 * i + k]);
        }
    }
    const uint32_t left = first_centre(low[0] - rect.x, rect.width),
                   right = first_centre(high[0] - rect.x, rect.width);
    const uint32_t top = first_centre(low[1] - rect.y, rect.height),
                   bottom = first_centre(high[1] - rect.y, rect.height);
    return (tdm_rect){left, top, right - left, bottom - top};
}

/* Flips the first pixel right of each crossing of one edge, so that a running exclusive or along a row fills
 * it. */
static void flip_edge(const double *a, const double *b, tdm_rect rect, tdm_rect part, uint8_t *flips)
{
    const double *top = a[1] < b[1] ? a : b, *bottom = a[1] < b[1] ? b : a;
    const uint32_t from = first_centre(top[1] - rect.y, rect.height),
                   to = first_centre(bottom[1] - rect.y, rect.height);
    for (uint32_t row = from < part.y ? part.y : from; row < to && row < part.y + part.height; row++) {
        const double y = (double)rect.y + row + 0.5;
        const double x = top[0] + (y - top[1]) / (bottom[1] - top[1]) * (bottom[0] - top[0]);
        uint32_t column = first_centre(x - rect.x, rect.width);
        column = column < part.x ? part.x : column;
        if (column < part.x + part.width)
            flips[(size_t)(row - part.y) * part.width + (column - part.x)] ^= 1;
    }
}

static tdm_code add_polygon(const tdm_polyline *polygon, tdm_rect rect, tdm_rect part, uint8_t *mask,
                            tdm_error *error)
{
    uint8_t *flips = calloc((size_t)part.width * part.height, 1);
    if (!flips)
        return tdm_fail_memory(error, NULL);
    for (size_t i = 0; i < polygon->count; i++)
        flip_edge(polygon->xy + 2 * i, polygon->xy + 2 * ((i + 1) % polygon->count), rect, part, flips);
    for (uint32_t row = 0; row < part.height; row++) {
        uint8_t inside = 0;
        for (uint32_t column = 0; column < part.width; column++) {
            inside ^= flips[(size_t)row * part.width + column];
            mask[(size_t)(part.y + row) * rect.width + part.x + column] |= inside;
        }
    }
    free(flips);
    return TDM_OK;
}

tdm_code tdm_mask_make(const tdm_marks *marks, tdm_rect rect, uint8_t **out, tdm_error *error)
{
    uint8_t *mask = NULL;
    tdm_code code = TDM_OK;
    for (size_t i = 0; code == TDM_OK && i < marks->exclude_count; i++) {
        const tdm_rect part = polygon_part(&marks->excludes[i], rect);
        if (part.width == 0 || part.height == 0)
            continue;
        if (!mask)
            mask = calloc((size_t)rect.width * rect.height, 1);
        code =
            mask ? add_polygon(&marks->excludes[i], rect, part, mask, error) : tdm_fail_memory(error, NULL);
    }
    if (code != TDM_OK)
        free(mask);
    else
        *out = mask;
    return code;
}
