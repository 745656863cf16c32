/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/strand_grid.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "colour/lab.h"
#include "measure/strand_axis.h"

enum { AXIS_PLACES = 8192 }; /* enough to find an axis; the rest would only take time */
static const double window_mm = 2;
/* Glints and grain change within it, hair hardly does. */
const double tdm_strand_reach = 12;
static const double least_stretch_mm = 18;

void tdm_strand_stretch(const tdm_fall *fall, double *from, double *to)
{
    const tdm_shape_fit *fit = &fall->fit;
    *from = 0;
    *to = fall->length;
    if (fit->shape == TDM_SHAPE_TRANSITION || fit->shape == TDM_SHAPE_BAND) {
        const double below = fit->centre[tdm_fall_main_step(fit)] + 0.5 * tdm_fall_width(fall);
        *from = fmin(fmax(below, 0), fall->length * 2 / 3);
    }
}

/* Where the strand through the middle of a window and a column runs: row by row from there. */
typedef struct reach {
    size_t first, last; /* rows that may be looked at: [first, last) */
    size_t half;        /* rows to either side of the middle */
} reach;

typedef struct light_sum {
    double xyz[3], cells, looked;
} light_sum;

/* Light of a row at a place between two columns. */
static void add_cell(const tdm_strip *strip, size_t row, double place, light_sum *to)
{
    const double left = floor(place), part = place - left;
    to->looked += 1;
    for (int side = 0; side < 2; side++) {
        const double col = left + side, weight = side ? part : 1 - part;
        if (!(weight > 0) || col < 0 || col > (double)strip->cols - 1)
            continue;
        const size_t cell = row * strip->cols + (size_t)col;
        if (!strip->use[cell])
            continue;
        for (size_t k = 0; k < 3; k++)
            to->xyz[k] += weight * (double)strip->xyz[3 * cell + k];
        to->cells += weight;
    }
}

/* Midpoint rule, a row at a time; the slope changes little from row to row. */
static void add_along(const tdm_strip *strip, const tdm_strand_field *field, const reach *rows, size_t middle,
                      size_t col, int step, light_sum *to)
{
    const size_t each = (size_t)fmax(1 / strip->cell + 0.5, 1);
    double place = (double)col, slope = 0;
    size_t row = middle;
    for (size_t i = 0; i < rows->half; i++) {
        if (step < 0 ? row == rows->first : row + 1 >= rows->last)
            return;
        if (i % each == 0)
            slope =
                tdm_strand_field_slope(field, ((double)row + 0.5 + 0.5 * step * (double)each) * strip->cell,
                                       (place + 0.5 + 0.5 * step * slope * (double)each) * strip->cell);
        row = step < 0 ? row - 1 : row + 1;
        place += step * slope;
        add_cell(strip, row, place, to);
    }
}

static bool window_mean(const tdm_strip *strip, const tdm_strand_field *field, const reach *rows,
                        size_t middle, size_t col, double xyz[3])
{
    light_sum sum = {{0, 0, 0}, 0, 0};
    add_cell(strip, middle, (double)col, &sum);
    add_along(strip, field, rows, middle, col, -1, &sum);
    add_along(strip, field, rows, middle, col, 1, &sum);
    if (sum.cells < 0.5 * sum.looked)
        return false;
    for (int k = 0; k < 3; k++)
        xyz[k] = sum.xyz[k] / sum.cells;
    return true;
}

static size_t cell_count(const tdm_strand_grid *grid)
{
    return grid->windows * grid->cols;
}

static void fill(const tdm_strip *strip, const tdm_strand_field *field, const reach *rows, size_t per_window,
                 tdm_strand_grid *grid)
{
    for (size_t cell = 0; cell < cell_count(grid); cell++) {
        const size_t middle = rows->first + cell / grid->cols * per_window + per_window / 2;
        const size_t col = cell % grid->cols;
        double *lab = grid->lab + 3 * cell, xyz[3];
        grid->slope[cell] = tdm_strand_field_slope(field, ((double)middle + 0.5) * strip->cell,
                                                   ((double)col + 0.5) * strip->cell);
        if (window_mean(strip, field, rows, middle, col, xyz))
            tdm_xyz_to_lab(xyz, lab);
        else
            lab[0] = lab[1] = lab[2] = NAN;
    }
}

/* Mean of one coordinate over cells [from, to); NaN for none. */
static double mean_of(const tdm_strand_grid *grid, size_t coordinate, size_t from, size_t to)
{
    double sum = 0, count = 0;
    for (size_t cell = from; cell < to; cell++) {
        if (isfinite(grid->lab[3 * cell])) {
            sum += grid->lab[3 * cell + coordinate];
            count += 1;
        }
    }
    return sum / count;
}

/* Takes each window's mean to the mean of all. */
static void flatten_along(tdm_strand_grid *grid, size_t coordinate)
{
    const double all = mean_of(grid, coordinate, 0, cell_count(grid));
    for (size_t from = 0; from < cell_count(grid); from += grid->cols) {
        const double shift = all - mean_of(grid, coordinate, from, from + grid->cols);
        for (size_t cell = from; cell < from + grid->cols; cell++)
            grid->lab[3 * cell + coordinate] += shift; /* NaN stays NaN */
    }
}

tdm_code tdm_strand_grid_score(tdm_strand_grid *grid, tdm_error *error)
{
    double axis[3] = {1, 0, 0}, mean[3]; /* colours that don't vary keep the axis of lightness */
    bool found = false;
    double *used = malloc((3 * cell_count(grid) + 1) * sizeof *used);
    if (!used)
        return tdm_fail_memory(error, NULL);
    size_t count = 0;
    const size_t step = cell_count(grid) / AXIS_PLACES + 1;
    for (size_t cell = 0; cell < cell_count(grid); cell += step) {
        if (isfinite(grid->lab[3 * cell]))
            memcpy(used + 3 * count++, grid->lab + 3 * cell, 3 * sizeof *used);
    }
    const tdm_code code = tdm_strand_axis(used, count, axis, &found, error);
    free(used);
    if (code != TDM_OK)
        return code;
    memcpy(grid->axis, axis, sizeof axis);
    for (size_t i = 0; i < 3; i++)
        mean[i] = mean_of(grid, i, 0, cell_count(grid));
    for (size_t cell = 0; cell < cell_count(grid); cell++) {
        grid->score[cell] = 0;
        for (size_t i = 0; i < 3; i++)
            grid->score[cell] += axis[i] * (grid->lab[3 * cell + i] - mean[i]);
    }
    return TDM_OK;
}

static tdm_code allocate(tdm_strand_grid *grid, tdm_error *error)
{
    grid->lab = calloc(3 * cell_count(grid), sizeof *grid->lab);
    grid->score = calloc(cell_count(grid), sizeof *grid->score);
    grid->slope = calloc(cell_count(grid), sizeof *grid->slope);
    grid->light = calloc(cell_count(grid), sizeof *grid->light);
    return grid->lab && grid->score && grid->slope && grid->light ? TDM_OK : tdm_fail_memory(error, NULL);
}

tdm_code tdm_strand_grid_make(const tdm_strip *strip, const tdm_strand_field *field, double from, double to,
                              tdm_strand_grid *out, tdm_error *error)
{
    const size_t per_window = (size_t)fmax(window_mm / strip->cell + 0.5, 1);
    const size_t first = (size_t)(fmax(from, 0) / strip->cell);
    const size_t last = (size_t)fmin(to / strip->cell, (double)strip->rows);
    if (to - from < least_stretch_mm || first + 3 * per_window > last)
        return tdm_fail(error, TDM_ERR_UNUSABLE, NULL, NULL,
                        "the hair below the line is too short to tell light strands from dark");
    tdm_strand_grid grid = {.cols = strip->cols, .from = from, .to = to};
    grid.windows = (last - first) / per_window;
    grid.window = (double)per_window * strip->cell;
    const reach rows = {first, last, (size_t)(0.5 * tdm_strand_reach / strip->cell)};
    tdm_code code = allocate(&grid, error);
    if (code == TDM_OK) {
        fill(strip, field, &rows, per_window, &grid);
        for (size_t coordinate = 0; coordinate < 3; coordinate++)
            flatten_along(&grid, coordinate);
        code = tdm_strand_grid_score(&grid, error);
    }
    if (code != TDM_OK) {
        tdm_strand_grid_free(&grid);
        return code;
    }
    *out = grid;
    return TDM_OK;
}

tdm_strand_grid tdm_strand_grid_part(const tdm_strand_grid *grid, double from, double to)
{
    tdm_strand_grid part = *grid;
    const double first = ceil((from - grid->from) / grid->window - 0.5);
    const double last = ceil((to - grid->from) / grid->window - 0.5);
    const size_t skip = (size_t)fmin(fmax(first, 0), (double)grid->windows);
    part.windows = (size_t)fmin(fmax(last, (double)skip), (double)grid->windows) - skip;
    part.from = grid->from + (double)skip * grid->window;
    part.to = part.from + (double)part.windows * grid->window;
    part.lab += 3 * skip * grid->cols;
    part.score += skip * grid->cols;
    part.slope += skip * grid->cols;
    part.light += skip * grid->cols;
    return part;
}

void tdm_strand_grid_free(tdm_strand_grid *grid)
{
    free(grid->lab);
    free(grid->score);
    free(grid->slope);
    free(grid->light);
    *grid = (tdm_strand_grid){0};
}
