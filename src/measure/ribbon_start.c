/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/ribbon_start.h"

#include <math.h>
#include <stdlib.h>

#include "base/fail.h"
#include "colour/lab.h"
#include "measure/shape.h"

/* Choices. */
static const double step_mm = 1;
static const double middle_share = 0.6; /* of the width; the rest may be its neighbours' */
static const double least_rise = 0.5;   /* of the contrast */
static const double most_dark = 0.3;    /* of the way from root to light */
enum { FIRST_STEPS = 3 };               /* in which that must hold */
enum { WIDTH_WINDOWS = 5 };             /* whose mean width the ribbon is followed up with */

/* One ribbon's colour on its way down. Rows of steps from the path's start to its last window. */
typedef struct way {
    const tdm_strip *strip;
    size_t step_rows, steps, room;
    double step; /* length of one */
    double *along, *value, *weight;
    double *xyz; /* steps * 3: summed linear light; weight has the number of cells */
} way;

static bool make_way(const tdm_strip *strip, way *out)
{
    *out = (way){.strip = strip};
    out->step_rows = (size_t)fmax(step_mm / strip->cell + 0.5, 1);
    out->step = (double)out->step_rows * strip->cell;
    out->room = strip->rows / out->step_rows + 1;
    out->along = calloc(6 * out->room, sizeof *out->along);
    if (!out->along)
        return false;
    out->value = out->along + out->room;
    out->weight = out->value + out->room;
    out->xyz = out->weight + out->room;
    return true;
}

/* Adds the cells of a step's rows from left to right. */
static void add_cells(way *of, size_t step, double left, double right)
{
    const tdm_strip *strip = of->strip;
    const size_t from = (size_t)fmax(left / strip->cell, 0);
    const double end = fmin(right / strip->cell, (double)strip->cols);
    for (size_t row = step * of->step_rows; row < (step + 1) * of->step_rows && row < strip->rows; row++) {
        for (size_t col = from; (double)col < end; col++) {
            const size_t cell = row * strip->cols + col;
            if (!strip->use[cell])
                continue;
            for (size_t k = 0; k < 3; k++)
                of->xyz[3 * step + k] += (double)strip->xyz[3 * cell + k];
            of->weight[step] += 1;
        }
    }
}

static double first_width(const tdm_ribbon *ribbon)
{
    double sum = 0;
    size_t count = 0;
    for (; count < WIDTH_WINDOWS && count < ribbon->windows; count++)
        sum += ribbon->edges[2 * count + 1] - ribbon->edges[2 * count];
    return sum / (double)count;
}

/* Middle of the step's cells, in whole steps of at least one cell's width. */
static void add_step(way *of, size_t step, double middle, double width)
{
    const double reach = fmax(0.5 * middle_share * width, 0.5 * of->strip->cell);
    of->along[step] = ((double)step + 0.5) * of->step;
    add_cells(of, step, middle - reach + 0.49 * of->strip->cell, middle + reach);
}

/* Sums the ribbon's colours from its last window up to the path's start. */
static void walk(const tdm_strand_field *field, const tdm_strand_map *map, const tdm_ribbon *ribbon, way *of)
{
    const double begins = map->from + (double)ribbon->first * map->window;
    const double ends = begins + (double)ribbon->windows * map->window;
    const double width = first_width(ribbon);
    double across = 0.5 * (ribbon->edges[0] + ribbon->edges[1]), at = begins + 0.5 * map->window;
    of->steps = (size_t)fmin(ends / of->step, (double)(of->strip->rows / of->step_rows));
    for (size_t i = 0; i < 3 * of->room; i++)
        of->xyz[i] = 0;
    for (size_t step = of->steps; step-- > 0;) {
        const double along = ((double)step + 0.5) * of->step;
        of->weight[step] = 0;
        if (along >= begins) {
            size_t window = (size_t)((along - begins) / map->window);
            window = window < ribbon->windows ? window : ribbon->windows - 1;
            const double *edges = ribbon->edges + 2 * window;
            add_step(of, step, 0.5 * (edges[0] + edges[1]), edges[1] - edges[0]);
        } else {
            if (field)
                across = tdm_strand_field_follow(field, at, across, along);
            at = along;
            add_step(of, step, across, width);
        }
    }
}

/* Mean CIELAB of the steps that lie in [from, to); false for none. */
static bool mean_lab(const way *of, double from, double to, double lab[3])
{
    double xyz[3] = {0, 0, 0}, cells = 0;
    for (size_t step = 0; step < of->steps; step++) {
        if (of->along[step] < from || of->along[step] >= to)
            continue;
        cells += of->weight[step];
        for (size_t k = 0; k < 3; k++)
            xyz[k] += of->xyz[3 * step + k];
    }
    for (int k = 0; k < 3; k++)
        xyz[k] /= cells;
    if (cells > 0)
        tdm_xyz_to_lab(xyz, lab);
    return cells > 0;
}

static double dot(const double a[3], const double b[3])
{
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

/* Mean colour of all hair at the root, for a ribbon that comes in from the side. */
static bool zone_root(const tdm_strip *strip, double to, double lab[3])
{
    double xyz[3] = {0, 0, 0}, cells = 0;
    const size_t end = (size_t)fmin(to / strip->cell, (double)strip->rows) * strip->cols;
    for (size_t cell = 0; cell < end; cell++) {
        if (!strip->use[cell])
            continue;
        cells += 1;
        for (size_t k = 0; k < 3; k++)
            xyz[k] += (double)strip->xyz[3 * cell + k];
    }
    for (int k = 0; k < 3; k++)
        xyz[k] /= cells;
    if (cells > 0)
        tdm_xyz_to_lab(xyz, lab);
    return cells > 0;
}

/* Whether the first that is seen of it is still dark. */
static bool begins_dark(const way *of)
{
    double sum = 0;
    int count = 0;
    for (size_t step = 0; step < of->steps && count < FIRST_STEPS; step++) {
        if (of->weight[step] > 0) {
            sum += of->value[step];
            count++;
        }
    }
    return count > 0 && sum / count < most_dark;
}

/* Colours to places between the two ends; steps without cells weigh nothing, the fullest one. */
static void project(way *of, const double root[3], const double axis[3])
{
    double most = 1;
    for (size_t step = 0; step < of->steps; step++)
        most = fmax(most, of->weight[step]);
    for (size_t step = 0; step < of->steps; step++) {
        double xyz[3], lab[3];
        of->value[step] = 0;
        if (!(of->weight[step] > 0))
            continue;
        for (size_t k = 0; k < 3; k++)
            xyz[k] = of->xyz[3 * step + k] / of->weight[step];
        tdm_xyz_to_lab(xyz, lab);
        for (int k = 0; k < 3; k++)
            lab[k] -= root[k];
        of->value[step] = dot(lab, axis) / dot(axis, axis);
        of->weight[step] /= most;
    }
}

static void fit(const way *of, tdm_ribbon *ribbon)
{
    const tdm_course course = {of->along, of->value, of->weight, of->steps, (double)of->steps * of->step};
    tdm_shape_fit found = {0};
    if (!tdm_shape_transition(&course, 0, course.length, &found) || !(found.step[0] > 0))
        return;
    ribbon->start = fmax(found.centre[0], 0);
    /* A mean over a step widens the rise by the step's own variance. */
    ribbon->onset =
        TDM_RISE_PER_SIGMA * sqrt(fmax(found.sigma[0] * found.sigma[0] - of->step * of->step / 12, 0));
}

static void find_start(const tdm_measure_input *input, const double contrast[3], const tdm_strand_map *map,
                       way *of, tdm_ribbon *ribbon)
{
    const double begins = map->from + (double)ribbon->first * map->window;
    const double root_end = (double)tdm_root_bins(input->columns, input->strip->length) * input->columns->bin;
    double root[3], axis[3];
    const bool seen = mean_lab(of, 0, root_end, root);
    if ((!seen && !zone_root(input->strip, root_end, root)) || !mean_lab(of, begins, INFINITY, axis))
        return;
    for (int k = 0; k < 3; k++)
        axis[k] -= root[k];
    if (dot(axis, contrast) < least_rise * dot(contrast, contrast)) {
        ribbon->start = seen ? 0 : NAN;
        return;
    }
    project(of, root, axis);
    if (seen || begins_dark(of))
        fit(of, ribbon);
}

tdm_code tdm_ribbon_starts(const tdm_measure_input *input, const tdm_strand_field *field,
                           const double light[3], const double dark[3], tdm_strand_map *map, tdm_error *error)
{
    const double contrast[3] = {light[0] - dark[0], light[1] - dark[1], light[2] - dark[2]};
    way of;
    if (!make_way(input->strip, &of))
        return tdm_fail_memory(error, NULL);
    for (size_t i = 0; i < map->ribbon_count; i++) {
        walk(field, map, map->ribbons + i, &of);
        find_start(input, contrast, map, &of, map->ribbons + i);
    }
    free(of.along);
    return TDM_OK;
}
