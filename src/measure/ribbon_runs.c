/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/ribbon_runs.h"

#include <math.h>
#include <stdlib.h>

#include "base/fail.h"

static const double half = 0.5;

static bool is_light(double light)
{
    return light > half; /* false for NaN */
}

/* Where light passes one half between the middles of columns col and col + 1, or the border between them
 * where one isn't known. */
static double crossing(const double *light, size_t col, double cell)
{
    const double here = light[col], next = light[col + 1];
    if (!isfinite(here) || !isfinite(next))
        return ((double)col + 1) * cell;
    return ((double)col + 0.5 + (half - here) / (next - here)) * cell;
}

/* The light columns [from, to). */
static tdm_run run_of(const double *light, size_t cols, double cell, size_t from, size_t to)
{
    tdm_run run = {.right = (double)cols * cell};
    run.cut_left = from == 0 || !isfinite(light[from - 1]);
    run.cut_right = to == cols || !isfinite(light[to]);
    if (from > 0)
        run.left = crossing(light, from - 1, cell);
    if (to < cols)
        run.right = crossing(light, to - 1, cell);
    return run;
}

/* Adds a run, or closes the gap to the one before where that is narrow. */
static size_t add_run(const tdm_run *run, double least, tdm_run *out, size_t count)
{
    if (count > 0 && run->left - out[count - 1].right < least) {
        out[count - 1].right = run->right;
        out[count - 1].cut_right = run->cut_right;
        return count;
    }
    out[count] = *run;
    return count + 1;
}

static double mean_slope(const double *slope, size_t cols, double cell, const tdm_run *run)
{
    size_t from = (size_t)(run->left / cell), to = (size_t)ceil(run->right / cell);
    double sum = 0;
    if (to > cols)
        to = cols;
    if (from >= to)
        from = to - 1;
    for (size_t col = from; col < to; col++)
        sum += slope[col];
    return sum / (double)(to - from);
}

size_t tdm_runs_find(const double *light, const double *slope, size_t cols, double cell, double least,
                     tdm_run *out)
{
    size_t count = 0, kept = 0;
    bool apart = true;
    for (size_t col = 0; col < cols; col++) {
        if (!is_light(light[col])) {
            apart = apart || !isfinite(light[col]);
            continue;
        }
        const size_t from = col;
        while (col + 1 < cols && is_light(light[col + 1]))
            col++;
        tdm_run run = run_of(light, cols, cell, from, col + 1);
        run.apart = apart;
        count = add_run(&run, least, out, count);
        apart = false;
    }
    apart = false;
    for (size_t i = 0; i < count; i++) {
        apart = apart || out[i].apart;
        if (out[i].right - out[i].left < least)
            continue;
        out[kept] = out[i];
        out[kept].apart = apart;
        out[kept].slope = slope ? mean_slope(slope, cols, cell, &out[kept]) : 0;
        kept++;
        apart = false;
    }
    return kept;
}

double tdm_run_width(const tdm_run *run)
{
    return (run->right - run->left) * cos(atan(run->slope));
}

/* Column at a place; the outermost beyond the edges. */
static size_t column_at(const tdm_strand_grid *grid, double cell, double across)
{
    const double col = fmin(fmax(across / cell, 0), (double)(grid->cols - 1));
    return (size_t)col;
}

double tdm_grid_follow(const tdm_strand_grid *grid, double cell, size_t window, double across, int step)
{
    const size_t next = step > 0 ? window + 1 : window - 1;
    const double here = grid->slope[window * grid->cols + column_at(grid, cell, across)];
    const double guess = across + step * grid->window * here;
    if ((step < 0 && window == 0) || next >= grid->windows)
        return guess;
    const double there = grid->slope[next * grid->cols + column_at(grid, cell, guess)];
    return across + step * grid->window * half * (here + there);
}

/* Light of a window at a place, by straight lines between the middles of columns; NaN off the grid. */
static double light_at(const tdm_strand_grid *grid, double cell, size_t window, double across)
{
    const double *light = grid->light + window * grid->cols;
    const double place = across / cell - 0.5;
    if (!(place >= -0.5) || place > (double)grid->cols - 0.5)
        return NAN;
    const double at = fmin(fmax(place, 0), (double)(grid->cols - 1));
    const size_t col = (size_t)at, next = col + 1 < grid->cols ? col + 1 : col;
    const double part = at - (double)col;
    if (part == 0 || !isfinite(light[next]))
        return light[col];
    return isfinite(light[col]) ? light[col] + part * (light[next] - light[col]) : light[next];
}

static void add_along(const tdm_strand_grid *grid, double cell, size_t window, double across, int step,
                      size_t reach, double *sum, double *count)
{
    for (size_t i = 0; i < reach; i++) {
        if (step < 0 ? window == 0 : window + 1 >= grid->windows)
            return;
        across = tdm_grid_follow(grid, cell, window, across, step);
        window = step < 0 ? window - 1 : window + 1;
        const double light = light_at(grid, cell, window, across);
        if (!isfinite(light))
            continue;
        *sum += light;
        *count += 1;
    }
}

void tdm_grid_smooth(const tdm_strand_grid *grid, double cell, size_t reach, double *out)
{
    for (size_t i = 0; i < grid->windows * grid->cols; i++) {
        const size_t window = i / grid->cols;
        const double across = ((double)(i % grid->cols) + 0.5) * cell;
        double sum = grid->light[i], count = 1;
        if (!isfinite(sum)) {
            out[i] = NAN;
            continue;
        }
        add_along(grid, cell, window, across, -1, reach, &sum, &count);
        add_along(grid, cell, window, across, 1, reach, &sum, &count);
        out[i] = sum / count;
    }
}

tdm_code tdm_run_table_make(const tdm_strand_grid *grid, const double *light, double cell, double least,
                            tdm_run_table *out, tdm_error *error)
{
    const size_t most = grid->cols / 2 + 1;
    tdm_run_table table = {.windows = grid->windows};
    table.first = calloc(grid->windows + 1, sizeof *table.first);
    table.runs = malloc((grid->windows * most + 1) * sizeof *table.runs);
    if (!table.first || !table.runs) {
        tdm_run_table_free(&table);
        return tdm_fail_memory(error, NULL);
    }
    for (size_t window = 0; window < grid->windows; window++) {
        const size_t at = window * grid->cols;
        table.first[window + 1] =
            table.first[window] + tdm_runs_find(light + at, grid->slope + at, grid->cols, cell, least,
                                                table.runs + table.first[window]);
    }
    *out = table;
    return TDM_OK;
}

void tdm_run_table_free(tdm_run_table *table)
{
    free(table->first);
    free(table->runs);
    *table = (tdm_run_table){0};
}
