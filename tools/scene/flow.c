/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdlib.h>

#include "drawing.h"

enum { LANES = 33 };
static const double left_mm = 42, top_mm = 44, sag_mm = 3, step_mm = 1, spare_mm = 40;

scn_point scn_pose(const scn_scene *scene, scn_point p)
{
    const double angle = scene->turn * 3.14159265358979323846 / 180, x = p.x - 150, y = p.y - 150;
    return (scn_point){150 + x * cos(angle) - y * sin(angle) + scene->dx,
                       150 + x * sin(angle) + y * cos(angle) + scene->dy};
}

/* Direction of the fall at s, as an angle from the vertical: hair spreads off the head, then hangs and
 * gathers. */
static double lean(double side, double s)
{
    const double gather = s < 80 ? 0 : fmin(1, (s - 80) / 100);
    return side * (0.115 * s / 30 * exp(1 - s / 30) - 0.11 * gather) + 0.025 * sin(s / 60 + side);
}

bool scn_flow_make(scn_flow *flow, const scn_scene *scene)
{
    const double sweep = scene->sweep * 3.14159265358979323846 / 180;
    const size_t steps = (size_t)ceil((scene->length + 2 * spare_mm) / step_mm);
    *flow = (scn_flow){calloc(LANES * (steps + 1), sizeof(scn_point)), LANES, steps, step_mm, scene->span};
    if (!flow->table)
        return false;
    for (size_t lane = 0; lane < LANES; lane++) {
        const double share = (double)lane / (LANES - 1), side = 2 * share - 1;
        scn_point p = {left_mm + share * scene->span, top_mm + sag_mm * side * side};
        /* The table starts `spare_mm` before the root, so that strands may start a little above the line. */
        p.x -= spare_mm * sin(lean(side, 0));
        p.y -= spare_mm * cos(lean(side, 0));
        for (size_t i = 0; i <= steps; i++) {
            const double s = fmax(0, ((double)i + 0.5) * step_mm - spare_mm);
            flow->table[lane * (steps + 1) + i] = scn_pose(scene, p);
            const double angle = lean(side, s) + sweep * scn_soft(0, 25, s);
            p.x += step_mm * sin(angle);
            p.y += step_mm * cos(angle);
        }
    }
    return true;
}

void scn_flow_free(scn_flow *flow)
{
    free(flow->table);
    flow->table = NULL;
}

scn_point scn_flow_at(const scn_flow *flow, double u, double s)
{
    const double lane = u / flow->span * (double)(flow->lanes - 1), place = (s + spare_mm) / flow->step;
    /* Beyond the table's edges the nearest cell is drawn on. */
    const double lane_cell = fmin(fmax(floor(lane), 0), (double)flow->lanes - 2);
    const double place_cell = fmin(fmax(floor(place), 0), (double)flow->steps - 1);
    const double a = lane - lane_cell, b = place - place_cell;
    const scn_point *p = flow->table + (size_t)lane_cell * (flow->steps + 1) + (size_t)place_cell;
    const scn_point *q = p + flow->steps + 1;
    return (scn_point){(1 - a) * ((1 - b) * p[0].x + b * p[1].x) + a * ((1 - b) * q[0].x + b * q[1].x),
                       (1 - a) * ((1 - b) * p[0].y + b * p[1].y) + a * ((1 - b) * q[0].y + b * q[1].y)};
}
