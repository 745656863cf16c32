/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "drawing.h"

bool scn_carries_plain(const scn_scene *scene)
{
    return scene->melt.on || scene->second_lights.share > 0;
}

static bool needs_more(const scn_scene *scene)
{
    return scn_carries_plain(scene) || scene->white.share > 0 || scene->cast.amount > 0 ||
           scene->cast.sheen_amount > 0;
}

/* The box that holds all hair, with room for flyaways. */
bool scn_canvas_make(scn_canvas *canvas, const scn_scene *scene, const scn_flow *flow)
{
    double low_x = 1e9, low_y = 1e9, high_x = -1e9, high_y = -1e9;
    for (int i = 0; i <= 8; i++) {
        for (int j = 0; j <= 24; j++) {
            const scn_point p = scn_flow_at(flow, scene->span * i / 8, scene->length * 1.06 * j / 24);
            low_x = fmin(low_x, p.x - 14);
            high_x = fmax(high_x, p.x + 14);
            low_y = fmin(low_y, p.y - 34);
            high_y = fmax(high_y, p.y + 14);
        }
    }
    const double w = (double)scene->width, h = (double)scene->height, scale = scene->px_mm;
    const double left = fmin(fmax(floor(low_x * scale), 0), w),
                 right = fmin(fmax(ceil(high_x * scale), 0), w);
    const double top = fmin(fmax(floor(low_y * scale), 0), h),
                 bottom = fmin(fmax(ceil(high_y * scale), 0), h);
    if (right - left < 1 || bottom - top < 1)
        return scn_fail("pose", "no hair in the picture");
    *canvas = (scn_canvas){.left = (size_t)left,
                           .top = (size_t)top,
                           .width = (size_t)(right - left),
                           .height = (size_t)(bottom - top)};
    const size_t room = (canvas->width + SCN_TILE) / SCN_TILE * SCN_TILE * canvas->height;
    canvas->pixels = calloc(room, sizeof *canvas->pixels);
    canvas->cover = calloc(room, sizeof *canvas->cover);
    if (needs_more(scene))
        canvas->more = calloc(room, sizeof *canvas->more);
    if (scene->lights.share > 0)
        canvas->ways = calloc(room, sizeof *canvas->ways);
    if (isfinite(scene->cast.parting_at))
        canvas->skin = calloc(room, sizeof *canvas->skin);
    if (!canvas->pixels || !canvas->cover || (needs_more(scene) && !canvas->more) ||
        (scene->lights.share > 0 && !canvas->ways) || (isfinite(scene->cast.parting_at) && !canvas->skin))
        return scn_fail("size", "out of memory");
    return true;
}

void scn_canvas_free(scn_canvas *canvas)
{
    free(canvas->pixels);
    free(canvas->cover);
    free(canvas->more);
    free(canvas->ways);
    free(canvas->skin);
    *canvas = (scn_canvas){0};
}

static void blend(scn_canvas *canvas, long x, long y, float alpha, const scn_pixel *value,
                  const scn_more *more, scn_way way)
{
    const size_t at = scn_canvas_at(canvas, (size_t)x, (size_t)y);
    float *p = canvas->pixels[at].v;
    for (int k = 0; k < SCN_CHANNELS; k++)
        p[k] += alpha * (value->v[k] - p[k]);
    canvas->cover[at] += alpha * (1.0f - canvas->cover[at]);
    for (int k = 0; canvas->more && k < SCN_MORE; k++)
        canvas->more[at].v[k] += alpha * (more->v[k] - canvas->more[at].v[k]);
    if (canvas->ways) {
        canvas->ways[at].x += alpha * (way.x - canvas->ways[at].x);
        canvas->ways[at].y += alpha * (way.y - canvas->ways[at].y);
        canvas->ways[at].second += alpha * (way.second - canvas->ways[at].second);
    }
}

/* One span across the strand: pixels of row (or column) `line` from low to high, partly covered at the ends.
 */
static void span(scn_canvas *canvas, bool steep, long line, float low, float high, float alpha,
                 const scn_pixel *value, const scn_more *more, scn_way way)
{
    const long size = (long)(steep ? canvas->width : canvas->height);
    long first = (long)floorf(low), last = (long)floorf(high);
    first = first < 0 ? 0 : first;
    last = last >= size ? size - 1 : last;
    for (long i = first; i <= last; i++) {
        const float from = low > (float)i ? low : (float)i,
                    to = high < (float)(i + 1) ? high : (float)(i + 1);
        const float covered = to > from ? (to - from) * alpha : 0;
        if (covered <= 0)
            continue;
        if (steep)
            blend(canvas, i, line, covered, value, more, way);
        else
            blend(canvas, line, i, covered, value, more, way);
    }
}

static void piece(scn_canvas *canvas, const scn_knot *a, const scn_knot *b)
{
    const float dx = b->x - a->x, dy = b->y - a->y;
    const bool steep = fabsf(dy) >= fabsf(dx);
    const float length = steep ? dy : dx, start = steep ? a->y : a->x;
    if (fabsf(length) < 1e-6f)
        return;
    const float run = sqrtf(dx * dx + dy * dy);
    const float slope = steep ? dx / dy : dy / dx, stretch = sqrtf(1 + slope * slope);
    const float low = length > 0 ? start : start + length, high = length > 0 ? start + length : start;
    const long lines = (long)(steep ? canvas->height : canvas->width);
    long first = (long)ceilf(low - 0.5f), last = (long)ceilf(high - 0.5f);
    first = first < 0 ? 0 : first;
    last = last > lines ? lines : last;
    for (long line = first; line < last; line++) {
        const float t = ((float)line + 0.5f - start) / length;
        const float centre = (steep ? a->x : a->y) + t * (steep ? dx : dy);
        const float half = (a->half + t * (b->half - a->half)) * stretch;
        scn_pixel value;
        scn_more more;
        for (int k = 0; k < SCN_CHANNELS; k++)
            value.v[k] = a->value.v[k] + t * (b->value.v[k] - a->value.v[k]);
        for (int k = 0; canvas->more && k < SCN_MORE; k++)
            more.v[k] = a->more.v[k] + t * (b->more.v[k] - a->more.v[k]);
        span(canvas, steep, line, centre - half, centre + half, a->alpha + t * (b->alpha - a->alpha), &value,
             &more, (scn_way){dx / run, dy / run, a->second});
    }
}

void scn_canvas_strand(scn_canvas *canvas, const scn_knot *knots, size_t count)
{
    for (size_t i = 0; i + 1 < count; i++)
        piece(canvas, &knots[i], &knots[i + 1]);
}

static void shadow_row(scn_canvas *canvas, long y, float centre, float half, float strength)
{
    long first = (long)floorf(centre - half), last = (long)ceilf(centre + half);
    first = first < 0 ? 0 : first;
    last = last >= (long)canvas->width ? (long)canvas->width - 1 : last;
    for (long x = first; x <= last; x++) {
        const float d = ((float)x + 0.5f - centre) / half, rest = 1 - d * d;
        if (rest > 0)
            canvas->pixels[scn_canvas_at(canvas, (size_t)x, (size_t)y)].v[SCN_SHADE] *=
                1 - strength * rest * rest;
    }
}

void scn_canvas_shadow(scn_canvas *canvas, const scn_knot *knots, size_t count)
{
    for (size_t i = 0; i + 1 < count; i++) {
        const scn_knot *a = &knots[i], *b = &knots[i + 1];
        long first = (long)ceilf(a->y - 0.5f), last = (long)ceilf(b->y - 0.5f);
        first = first < 0 ? 0 : first;
        last = last > (long)canvas->height ? (long)canvas->height : last;
        for (long y = first; y < last; y++) {
            const float t = ((float)y + 0.5f - a->y) / (b->y - a->y);
            shadow_row(canvas, y, a->x + t * (b->x - a->x), a->half, a->alpha + t * (b->alpha - a->alpha));
        }
    }
}
