/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "strip/path.h"

#include <math.h>
#include <stdlib.h>

#include "base/fail.h"

enum { SAMPLES_A_SPAN = 64 };

/* A point before a: the third point mirrored in the perpendicular bisector of a and b, so that a curve that
 * bends goes on bending (three points of a circle give a fourth); a path of two points goes on straight. */
static void point_before(const double *a, const double *b, const double *c, double out[2])
{
    const double dx = b[0] - a[0], dy = b[1] - a[1], square = dx * dx + dy * dy;
    const double from_middle = (c[0] - 0.5 * (a[0] + b[0])) * dx + (c[1] - 0.5 * (a[1] + b[1])) * dy;
    out[0] = c[0] - 2 * from_middle / square * dx;
    out[1] = c[1] - 2 * from_middle / square * dy;
}

/* Marked point i, or one beyond either end. */
static void marked_point(const tdm_polyline *path, ptrdiff_t i, double out[2])
{
    const ptrdiff_t last = (ptrdiff_t)path->count - 1;
    const double *xy = path->xy;
    if (i >= 0 && i <= last) {
        out[0] = xy[2 * i];
        out[1] = xy[2 * i + 1];
        return;
    }
    const ptrdiff_t end = i < 0 ? 0 : last, step = i < 0 ? 1 : -1;
    const double *a = xy + 2 * end, *b = xy + 2 * (end + step);
    /* Two points have no bend: the third is taken straight on. */
    const double straight[2] = {2 * b[0] - a[0], 2 * b[1] - a[1]};
    point_before(a, b, path->count > 2 ? xy + 2 * (end + 2 * step) : straight, out);
}

static void blend(const double a[2], const double b[2], double ta, double tb, double t, double out[2])
{
    for (int k = 0; k < 2; k++)
        out[k] = ((tb - t) * a[k] + (t - ta) * b[k]) / (tb - ta);
}

/* Barry and Goldman's (1988) pyramid with knots at the square root of the chords. */
static void span_point(double p[4][2], double share, double out[2])
{
    double knot[4] = {0}, a[3][2], b[2][2];
    for (int i = 1; i < 4; i++)
        knot[i] = knot[i - 1] + sqrt(hypot(p[i][0] - p[i - 1][0], p[i][1] - p[i - 1][1]));
    const double t = knot[1] + share * (knot[2] - knot[1]);
    for (int i = 0; i < 3; i++)
        blend(p[i], p[i + 1], knot[i], knot[i + 1], t, a[i]);
    for (int i = 0; i < 2; i++)
        blend(a[i], a[i + 1], knot[i], knot[i + 2], t, b[i]);
    blend(b[0], b[1], knot[1], knot[2], t, out);
}

static void sample_span(const tdm_zone_marks *zone, size_t span, double px, tdm_path *out)
{
    double points[4][2];
    for (ptrdiff_t k = 0; k < 4; k++)
        marked_point(&zone->path, (ptrdiff_t)span + k - 1, points[k]);
    /* The first span brings the path's first point too. */
    for (size_t step = span == 0 ? 0 : 1; step <= SAMPLES_A_SPAN; step++) {
        const double share = (double)step / SAMPLES_A_SPAN;
        double *xy = out->xy + 2 * out->count;
        span_point(points, share, xy);
        out->width[out->count] = px * ((1 - share) * zone->widths[span] + share * zone->widths[span + 1]);
        out->along[out->count] =
            out->count == 0 ? 0 : out->along[out->count - 1] + hypot(xy[0] - xy[-2], xy[1] - xy[-1]);
        out->count++;
    }
}

tdm_code tdm_path_make(const tdm_zone_marks *zone, double px_per_mm, tdm_path *out, tdm_error *error)
{
    const size_t spans = zone->path.count - 1, most = spans * SAMPLES_A_SPAN + 1;
    tdm_path path = {.along = calloc(most, sizeof(double)),
                     .xy = calloc(2 * most, sizeof(double)),
                     .width = calloc(most, sizeof(double))};
    if (!path.along || !path.xy || !path.width) {
        tdm_path_free(&path);
        return tdm_fail_memory(error, NULL);
    }
    for (size_t span = 0; span < spans; span++)
        sample_span(zone, span, zone->width_in_mm ? px_per_mm : 1, &path);
    *out = path;
    return TDM_OK;
}

void tdm_path_free(tdm_path *path)
{
    free(path->along);
    free(path->xy);
    free(path->width);
    *path = (tdm_path){0};
}

double tdm_path_length(const tdm_path *path)
{
    return path->along[path->count - 1];
}

double tdm_path_widest(const tdm_path *path)
{
    double widest = 0;
    for (size_t i = 0; i < path->count; i++)
        widest = fmax(widest, path->width[i]);
    return widest;
}

/* Last sample at or before a distance, never the very last sample. */
static size_t find_sample(const tdm_path *path, double along)
{
    size_t low = 0, high = path->count - 1;
    while (high - low > 1) {
        const size_t middle = low + (high - low) / 2;
        if (path->along[middle] <= along)
            low = middle;
        else
            high = middle;
    }
    return low;
}

tdm_path_place tdm_path_at(const tdm_path *path, double along)
{
    const size_t i = find_sample(path, along);
    const double *a = path->xy + 2 * i, *b = a + 2;
    const double step = path->along[i + 1] - path->along[i];
    const double share = step > 0 ? (along - path->along[i]) / step : 0;
    return (tdm_path_place){.x = a[0] + share * (b[0] - a[0]),
                            .y = a[1] + share * (b[1] - a[1]),
                            .dx = step > 0 ? (b[0] - a[0]) / step : 0,
                            .dy = step > 0 ? (b[1] - a[1]) / step : 1,
                            .width = path->width[i] + share * (path->width[i + 1] - path->width[i])};
}
