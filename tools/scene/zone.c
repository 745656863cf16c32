/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdlib.h>

#include "drawing.h"

bool scn_path_make(scn_path *path, const scn_scene *scene, const scn_flow *flow, const scn_zone *zone)
{
    const double step = 0.5;
    *path = (scn_path){.count = (size_t)lround(zone->length / step) + 1,
                       .step_mm = step,
                       .px_mm = scene->px_mm,
                       .half_mm = 0.5 * zone->width};
    path->path = calloc(path->count, sizeof *path->path);
    for (size_t i = 0; path->path && i < path->count; i++) {
        const scn_point p = scn_flow_at(flow, zone->at, zone->from + (double)i * step);
        path->path[i] = (scn_point){p.x * scene->px_mm, p.y * scene->px_mm};
    }
    return path->path || scn_fail(zone->name, "out of memory");
}

void scn_path_free(scn_path *path)
{
    free(path->path);
    path->path = NULL;
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
