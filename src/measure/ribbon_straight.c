/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/ribbon_straight.h"

#include <math.h>
#include <stdlib.h>

#include "base/fail.h"

/* Choices: windows in which a strand must be seen; widths of the strip that strands may lie beside it. */
enum { LEAST_WINDOWS = 5, BESIDE = 2 };

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

/* Sums of light in bins of a cell's width, the first at `from`. */
typedef struct bins {
    size_t count;
    double from, cell;
    double *light, *windows;
} bins;

static void add_window(const tdm_strand_grid *grid, size_t window, const double *place, bins *to)
{
    for (size_t col = 0; col < grid->cols; col++) {
        const double light = grid->light[window * grid->cols + col];
        const double at = (place[col] - to->from) / to->cell;
        if (!isfinite(light) || !(at >= 0) || at >= (double)to->count)
            continue;
        to->light[(size_t)at] += light;
        to->windows[(size_t)at] += 1;
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

static double kept_share(const tdm_strand_grid *grid, const double *mean, size_t count)
{
    double sum = 0, windows = 0, here = 0;
    for (size_t window = 0; window < grid->windows; window++) {
        if (variance(grid->light + window * grid->cols, grid->cols, &here)) {
            sum += here;
            windows += 1;
        }
    }
    if (!(sum > 0) || !variance(mean, count, &here))
        return 0;
    return fmin(here / (sum / windows), 1);
}

/* room: 2 * cols. */
static void sum_up(const tdm_strand_grid *grid, const tdm_strand_field *field, double *room, bins *to)
{
    double *place = room, *above = room + grid->cols;
    for (size_t window = 0; window < grid->windows; window++) {
        double *swap = above;
        above = place;
        place = swap;
        if (window == 0)
            start_places(grid, field, to->cell, place);
        else
            next_places(grid, to->cell, window, above, place);
        add_window(grid, window, place, to);
    }
    const double least = fmin(0.5 * (double)grid->windows, LEAST_WINDOWS);
    for (size_t i = 0; i < to->count; i++)
        to->light[i] = to->windows[i] >= least ? to->light[i] / to->windows[i] : NAN;
}

static double mean_cosine(const tdm_strand_grid *grid)
{
    double sum = 0;
    for (size_t i = 0; i < grid->windows * grid->cols; i++)
        sum += grid->slope[i];
    return cos(atan(sum / (double)(grid->windows * grid->cols)));
}

/* Strands that run aslant come from beyond the strip, and lie beside it at the path's start. */
tdm_code tdm_ribbon_straighten(const tdm_strand_grid *grid, const tdm_strand_field *field, double cell,
                               tdm_ribbon_profile *out, tdm_error *error)
{
    bins to = {.count = (2 * BESIDE + 1) * grid->cols, .cell = cell};
    to.from = -BESIDE * (double)grid->cols * cell;
    to.light = calloc(to.count, sizeof *to.light);
    to.windows = calloc(to.count, sizeof *to.windows);
    double *room = calloc(2 * grid->cols, sizeof *room);
    const bool good = to.light && to.windows && room;
    if (good) {
        sum_up(grid, field, room, &to);
        *out = (tdm_ribbon_profile){to.count, cell, to.light, kept_share(grid, to.light, to.count),
                                    mean_cosine(grid)};
    } else {
        free(to.light);
    }
    free(room);
    free(to.windows);
    return good ? TDM_OK : tdm_fail_memory(error, NULL);
}

void tdm_ribbon_profile_free(tdm_ribbon_profile *profile)
{
    free(profile->light);
    *profile = (tdm_ribbon_profile){0};
}
