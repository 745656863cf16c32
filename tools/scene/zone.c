/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdlib.h>

#include "drawing.h"

scn_point scn_zone_at(const scn_flow *flow, const scn_zone *zone, double s)
{
    const scn_point start = scn_flow_at(flow, zone->at, zone->from),
                    p = scn_flow_at(flow, zone->at, zone->from + s);
    const double angle = zone->turn * 3.14159265358979323846 / 180, x = p.x - start.x, y = p.y - start.y;
    if (zone->turn == 0)
        return p;
    return (scn_point){start.x + x * cos(angle) - y * sin(angle), start.y + x * sin(angle) + y * cos(angle)};
}

bool scn_path_make(scn_path *path, const scn_scene *scene, const scn_flow *flow, const scn_zone *zone)
{
    const double step = 0.5;
    *path = (scn_path){.count = (size_t)lround(zone->length / step) + 1,
                       .step_mm = step,
                       .px_mm = scene->px_mm,
                       .half_mm = 0.5 * zone->width};
    path->path = calloc(path->count, sizeof *path->path);
    for (size_t i = 0; path->path && i < path->count; i++) {
        const scn_point p = scn_zone_at(flow, zone, (double)i * step);
        path->path[i] = (scn_point){p.x * scene->px_mm, p.y * scene->px_mm};
    }
    return path->path || scn_fail(zone->name, "out of memory");
}

void scn_path_free(scn_path *path)
{
    free(path->path);
    path->path = NULL;
}

/* The piece of the path that s lies on. */
static size_t piece_of(const scn_path *path, double s)
{
    return (size_t)fmin(fmax(floor(s / path->step_mm), 0), (double)path->count - 2);
}

scn_point scn_path_way(const scn_path *path, double s)
{
    const scn_point *a = path->path + piece_of(path, s);
    const double dx = a[1].x - a[0].x, dy = a[1].y - a[0].y, length = hypot(dx, dy);
    return (scn_point){dx / length, dy / length};
}

scn_point scn_path_at(const scn_path *path, double s, double across)
{
    const size_t i = piece_of(path, s);
    const scn_point way = scn_path_way(path, s), a = path->path[i], b = path->path[i + 1];
    const double part = s / path->step_mm - (double)i, off = across * path->px_mm;
    return (scn_point){a.x + part * (b.x - a.x) - off * way.y, a.y + part * (b.y - a.y) + off * way.x};
}

/* Newton steps along the path from the last pixel's place; the path bends little, so two or three do. */
bool scn_path_place(const scn_path *path, double x, double y, size_t *hint, double *s, double *t)
{
    double place = (double)*hint;
    scn_point a = {0, 0}, d = {0, 0};
    for (int turn = 0; turn < 6; turn++) {
        const size_t i = (size_t)fmin(fmax(floor(place), 0), (double)path->count - 2);
        a = path->path[i];
        d = (scn_point){path->path[i + 1].x - a.x, path->path[i + 1].y - a.y};
        const double next = (double)i + ((x - a.x) * d.x + (y - a.y) * d.y) / (d.x * d.x + d.y * d.y);
        const bool still = fabs(next - place) < 1e-3;
        place = next;
        if (still)
            break;
    }
    *hint = (size_t)fmin(fmax(place, 0), (double)path->count - 2);
    *s = place * path->step_mm;
    /* t grows to the left of the fall as the head sees it: the picture's right on a path that runs down. */
    *t = ((x - a.x) * d.y - (y - a.y) * d.x) / hypot(d.x, d.y) / path->px_mm;
    return *s >= 0 && *s < (double)(path->count - 1) * path->step_mm && fabs(*t) <= path->half_mm;
}
