/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/ribbon_straight.h"

#include <math.h>
#include <stdlib.h>

#include "base/fail.h"

/* By straight lines between the middles of columns, and beyond them. */
static double place_at(const double *place, size_t cols, double cell, double across)
{
    const double at = across / cell - 0.5;
    double col = floor(fmin(fmax(at, 0), (double)(cols > 1 ? cols - 2 : 0)));
    const size_t i = (size_t)col;
    if (cols < 2)
        return place[0];
    return place[i] + (at - col) * (place[i + 1] - place[i]);
}

/* Where the strands of the first window's columns lie at the path's start. */
static void start_places(const tdm_strand_grid *grid, const tdm_strand_field *field, double cell,
                         double *place)
{
    for (size_t col = 0; col < grid->cols; col++) {
        const double across = ((double)col + 0.5) * cell;
        place[col] =
            field ? tdm_strand_field_follow(field, grid->from + 0.5 * grid->window, across, 0) : across;
    }
}

static void next_places(const tdm_strand_grid *grid, double cell, size_t window, const double *above,
                        double *place)
{
    for (size_t col = 0; col < grid->cols; col++) {
        const double up = tdm_grid_follow(grid, cell, window, ((double)col + 0.5) * cell, -1);
        place[col] = place_at(above, grid->cols, cell, up);
    }
}

static void add_window(const tdm_strand_grid *grid, double cell, size_t window, const double *place,
                       double *sum, double *count)
{
    for (size_t col = 0; col < grid->cols; col++) {
        const double light = grid->light[window * grid->cols + col];
        const double at = place[col] / cell;
        if (!isfinite(light) || !(at >= 0) || at >= (double)grid->cols)
            continue;
        sum[(size_t)at] += light;
        count[(size_t)at] += 1;
    }
}

/* Variance of the known values, and whether there are two. */
static bool variance(const double *values, size_t count, double *out)
{
    double known = 0, sum = 0, squares = 0;
    for (size_t i = 0; i < count; i++) {
        if (!isfinite(values[i]))
            continue;
        known += 1;
        sum += values[i];
        squares += values[i] * values[i];
    }
    *out = known > 0 ? fmax(squares / known - sum / known * (sum / known), 0) : 0;
    return known > 1;
}

static double kept_share(const tdm_strand_grid *grid, const double *mean)
{
    double sum = 0, windows = 0, here = 0;
    for (size_t window = 0; window < grid->windows; window++) {
        if (variance(grid->light + window * grid->cols, grid->cols, &here)) {
            sum += here;
            windows += 1;
        }
    }
    if (!(sum > 0) || !variance(mean, grid->cols, &here))
        return 0;
    return fmin(here / (sum / windows), 1);
}

static void sum_up(const tdm_strand_grid *grid, const tdm_strand_field *field, double cell, double *room,
                   double *mean)
{
    double *place = room, *above = room + grid->cols, *count = room + 2 * grid->cols;
    for (size_t window = 0; window < grid->windows; window++) {
        double *swap = above;
        above = place;
        place = swap;
        if (window == 0)
            start_places(grid, field, cell, place);
        else
            next_places(grid, cell, window, above, place);
        add_window(grid, cell, window, place, mean, count);
    }
    for (size_t col = 0; col < grid->cols; col++)
        mean[col] = count[col] >= 0.5 * (double)grid->windows ? mean[col] / count[col] : NAN;
}

tdm_code tdm_ribbon_straighten(const tdm_strand_grid *grid, const tdm_strand_field *field, double cell,
                               tdm_ribbon_profile *out, tdm_error *error)
{
    double *room = calloc(3 * grid->cols, sizeof *room);
    double *mean = calloc(grid->cols, sizeof *mean);
    if (!room || !mean) {
        free(room);
        free(mean);
        return tdm_fail_memory(error, NULL);
    }
    sum_up(grid, field, cell, room, mean);
    free(room);
    *out = (tdm_ribbon_profile){grid->cols, cell, mean, kept_share(grid, mean)};
    return TDM_OK;
}

void tdm_ribbon_profile_free(tdm_ribbon_profile *profile)
{
    free(profile->light);
    *profile = (tdm_ribbon_profile){0};
}
