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
static const double least_stretch_mm = 18;

/* Below the line's 90 % point, where light strands are light; the whole zone where there is no line. Never
 * less than the last third: a soft fall may not be over before the ends. */
static void choose_stretch(const tdm_fall *fall, tdm_strand_grid *grid)
{
    const tdm_shape_fit *fit = &fall->fit;
    grid->from = 0;
    grid->to = fall->length;
    if (fit->shape == TDM_SHAPE_TRANSITION || fit->shape == TDM_SHAPE_BAND) {
        const double below = fit->centre[tdm_fall_main_step(fit)] + 0.5 * tdm_fall_width(fall);
        grid->from = fmin(fmax(below, 0), fall->length * 2 / 3);
    }
}

static bool window_mean(const tdm_strip *strip, size_t from, size_t to, size_t col, double xyz[3])
{
    double cells = 0;
    xyz[0] = xyz[1] = xyz[2] = 0;
    for (size_t row = from; row < to; row++) {
        const size_t cell = row * strip->cols + col;
        if (!strip->use[cell])
            continue;
        for (size_t k = 0; k < 3; k++)
            xyz[k] += (double)strip->xyz[3 * cell + k];
        cells += 1;
    }
    if (cells < 0.5 * (double)(to - from))
        return false;
    for (int k = 0; k < 3; k++)
        xyz[k] /= cells;
    return true;
}

static size_t cell_count(const tdm_strand_grid *grid)
{
    return grid->windows * grid->cols;
}

static void fill(const tdm_strip *strip, size_t first, size_t per_window, tdm_strand_grid *grid)
{
    for (size_t cell = 0; cell < cell_count(grid); cell++) {
        const size_t from = first + cell / grid->cols * per_window;
        double *lab = grid->lab + 3 * cell;
        if (window_mean(strip, from, from + per_window, cell % grid->cols, grid->xyz + 3 * cell))
            tdm_xyz_to_lab(grid->xyz + 3 * cell, lab);
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

/* Scores along the axis that tells light from dark best. */
static tdm_code score(tdm_strand_grid *grid, tdm_error *error)
{
    double axis[3] = {1, 0, 0}, mean[3];
    double *used = malloc((3 * cell_count(grid) + 1) * sizeof *used);
    if (!used)
        return tdm_fail_memory(error, NULL);
    size_t count = 0;
    const size_t step = cell_count(grid) / AXIS_PLACES + 1;
    for (size_t cell = 0; cell < cell_count(grid); cell += step) {
        if (isfinite(grid->lab[3 * cell]))
            memcpy(used + 3 * count++, grid->lab + 3 * cell, 3 * sizeof *used);
    }
    (void)tdm_strand_axis(used, count, axis); /* colours that don't vary keep the axis of lightness */
    free(used);
    for (size_t i = 0; i < 3; i++)
        mean[i] = mean_of(grid, i, 0, cell_count(grid));
    for (size_t cell = 0; cell < cell_count(grid); cell++) {
        grid->score[cell] = 0;
        for (size_t i = 0; i < 3; i++)
            grid->score[cell] += axis[i] * (grid->lab[3 * cell + i] - mean[i]);
    }
    return TDM_OK;
}

tdm_code tdm_strand_grid_make(const tdm_measure_input *input, tdm_strand_grid *out, tdm_error *error)
{
    const tdm_strip *strip = input->strip;
    tdm_strand_grid grid = {.cols = strip->cols};
    choose_stretch(input->fall, &grid);
    const size_t per_window = (size_t)fmax(window_mm / strip->cell + 0.5, 1);
    const size_t first = (size_t)(grid.from / strip->cell);
    if (grid.to - grid.from < least_stretch_mm || first + 3 * per_window > strip->rows)
        return tdm_fail(error, TDM_ERR_UNUSABLE, NULL, NULL,
                        "the hair below the line is too short to tell light strands from dark");
    grid.windows = (strip->rows - first) / per_window;
    grid.window = (double)per_window * strip->cell;
    grid.lab = calloc(3 * cell_count(&grid), sizeof *grid.lab);
    grid.score = calloc(cell_count(&grid), sizeof *grid.score);
    grid.xyz = calloc(3 * cell_count(&grid), sizeof *grid.xyz);
    grid.slope = calloc(cell_count(&grid), sizeof *grid.slope);
    grid.light = calloc(cell_count(&grid), sizeof *grid.light);
    tdm_code code = grid.lab && grid.score && grid.xyz && grid.slope && grid.light
                        ? TDM_OK
                        : tdm_fail_memory(error, NULL);
    if (code == TDM_OK) {
        fill(strip, first, per_window, &grid);
        for (size_t coordinate = 0; coordinate < 3; coordinate++)
            flatten_along(&grid, coordinate);
        code = score(&grid, error);
    }
    if (code != TDM_OK) {
        tdm_strand_grid_free(&grid);
        return code;
    }
    *out = grid;
    return TDM_OK;
}

void tdm_strand_grid_free(tdm_strand_grid *grid)
{
    free(grid->lab);
    free(grid->score);
    free(grid->xyz);
    free(grid->slope);
    free(grid->light);
    *grid = (tdm_strand_grid){0};
}
