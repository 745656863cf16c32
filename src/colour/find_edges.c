/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "colour/find_edges.h"

#include <math.h>

enum { COLUMNS = 6, ROWS = 4, STEPS = 90 };

/* In units of the pitch from the middle of the gap, outwards: a walk from well inside the patch. */
static const double walk_from = -0.30, walk_to = 0.06;
static const double inside_until = -0.18; /* the patch's own level is taken up to here */
static const double gap_from = -0.025, gap_to = 0.025;
static const double along_reach = 0.25; /* of the pitch, of points on an edge from its middle */
/* Least difference of linear light, and of that in the patch's own scatter. */
static const double least_step = 0.008, least_scatters = 4;

static double linear(double code)
{
    return pow(code / 255, 2.2);
}

/* Linear light of a channel along the walk. */
typedef struct walk {
    double x[STEPS], y[STEPS];
    double light[3][STEPS];
} walk;

static double place(int step)
{
    return walk_from + (walk_to - walk_from) * step / (STEPS - 1);
}

static void take_walk(const tdm_find_picture *picture, const tdm_homography *map, const tdm_find_edge *edge,
                      double along, walk *w)
{
    double colour[3];
    for (int i = 0; i < STEPS; i++) {
        const double out = edge->middle + edge->side * (0.5 + place(i));
        tdm_homography_at(map, edge->across ? out : along, edge->across ? along : out, &w->x[i], &w->y[i]);
        tdm_find_picture_at(picture, w->x[i], w->y[i], colour);
        for (int k = 0; k < 3; k++)
            w->light[k][i] = linear(colour[k]);
    }
}

static double level(const double light[STEPS], double from, double to, double *scatter)
{
    double sum = 0, squares = 0;
    int count = 0;
    for (int i = 0; i < STEPS; i++) {
        if (place(i) < from || place(i) > to)
            continue;
        sum += light[i];
        squares += light[i] * light[i];
        count++;
    }
    const double mean = sum / count;
    *scatter = sqrt(fmax(squares / count - mean * mean, 0));
    return mean;
}

/* Where the light has gone half way to the gap's, in steps; negative where it doesn't clearly. */
static double half_way(const double light[STEPS], double *step)
{
    double scatter, unused;
    const double inside = level(light, walk_from, inside_until, &scatter);
    const double gap = level(light, gap_from, gap_to, &unused);
    const double half = (inside + gap) / 2;
    *step = fabs(inside - gap);
    if (*step < least_step || *step < least_scatters * scatter)
        return -1;
    for (int i = 1; i < STEPS; i++) {
        if (place(i) < inside_until || (light[i] - half) * (inside - half) > 0)
            continue;
        return i - 1 + (light[i - 1] - half) / (light[i - 1] - light[i]);
    }
    return -1;
}

/* Of the channel that shows it best. */
static bool find_point(const tdm_find_picture *picture, const tdm_homography *map, double along,
                       tdm_find_edge *edge)
{
    walk w;
    double best = -1, largest = 0;
    take_walk(picture, map, edge, along, &w);
    for (int k = 0; k < 3; k++) {
        double step;
        const double at = half_way(w.light[k], &step);
        if (at >= 0 && step > largest) {
            largest = step;
            best = at;
        }
    }
    if (!(best >= 0))
        return false;
    const int before = best < STEPS - 2 ? (int)best : STEPS - 2;
    edge->x = w.x[before] + (best - before) * (w.x[before + 1] - w.x[before]);
    edge->y = w.y[before] + (best - before) * (w.y[before + 1] - w.y[before]);
    return true;
}

size_t tdm_find_edges(const tdm_find_picture *picture, const tdm_homography *map,
                      tdm_find_edge out[TDM_MOST_EDGE_POINTS])
{
    size_t count = 0;
    for (int i = 0; i < COLUMNS * ROWS * 4 * TDM_EDGE_POINTS; i++) {
        const int patch = i / (4 * TDM_EDGE_POINTS), side = i / TDM_EDGE_POINTS % 4;
        const double column = patch % COLUMNS, row = patch / COLUMNS;
        const bool across = side < 2;
        tdm_find_edge edge = {.across = across, .middle = across ? column : row, .side = side % 2 ? 1 : -1};
        const double along =
            along_reach * (i % TDM_EDGE_POINTS - TDM_EDGE_POINTS / 2) / (TDM_EDGE_POINTS / 2);
        if (find_point(picture, map, (across ? row : column) + along, &edge))
            out[count++] = edge;
    }
    return count;
}
