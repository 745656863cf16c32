/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/strand_grid.h"

#include <math.h>
#include <stdlib.h>

#include "base/fail.h"
#include "colour/lab.h"

static const double window_mm = 6;
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

static void fill(const tdm_strip *strip, size_t first, size_t per_window, tdm_strand_grid *grid)
{
    for (size_t window = 0; window < grid->windows; window++) {
        const size_t from = first + window * per_window;
        for (size_t col = 0; col < grid->cols; col++) {
            const size_t at = window * grid->cols + col;
            double *xyz = grid->xyz + 3 * at, lab[3];
            grid->lstar[at] = NAN;
            if (!window_mean(strip, from, from + per_window, col, xyz))
                continue;
            tdm_xyz_to_lab(xyz, lab);
            grid->lstar[at] = lab[0];
        }
    }
}

/* Takes each window's mean to the mean of all. */
static void flatten_along(tdm_strand_grid *grid)
{
    double all = 0, count = 0;
    for (size_t i = 0; i < grid->windows * grid->cols; i++) {
        if (isfinite(grid->lstar[i])) {
            all += grid->lstar[i];
            count += 1;
        }
    }
    for (size_t window = 0; window < grid->windows; window++) {
        double *row = grid->lstar + window * grid->cols, sum = 0, cells = 0;
        for (size_t col = 0; col < grid->cols; col++) {
            if (isfinite(row[col])) {
                sum += row[col];
                cells += 1;
            }
        }
        for (size_t col = 0; cells > 0 && col < grid->cols; col++)
            row[col] += all / count - sum / cells; /* NaN stays NaN */
    }
}

/* Sums for the least-squares slope and bend of the columns' means. */
typedef struct parabola {
    double slope, bend;
} parabola;

static double linear_term(const tdm_strand_grid *grid, size_t col)
{
    return ((double)col + 0.5) / (double)grid->cols - 0.5;
}

/* Orthogonal to the linear and constant terms on evenly filled columns. */
static double square_term(const tdm_strand_grid *grid, size_t col)
{
    return linear_term(grid, col) * linear_term(grid, col) - 1.0 / 12;
}

static parabola fit_parabola(const tdm_strand_grid *grid)
{
    double top[2] = {0, 0}, below[2] = {0, 0};
    for (size_t i = 0; i < grid->windows * grid->cols; i++) {
        if (!isfinite(grid->lstar[i]))
            continue;
        const double terms[2] = {linear_term(grid, i % grid->cols), square_term(grid, i % grid->cols)};
        for (int k = 0; k < 2; k++) {
            top[k] += terms[k] * grid->lstar[i];
            below[k] += terms[k] * terms[k];
        }
    }
    return (parabola){.slope = below[0] > 0 ? top[0] / below[0] : 0,
                      .bend = below[1] > 0 ? top[1] / below[1] : 0};
}

/* Broad shading is a parabola at most: anything finer could be a ribbon. */
static void flatten_across(tdm_strand_grid *grid)
{
    const parabola shading = fit_parabola(grid);
    for (size_t i = 0; i < grid->windows * grid->cols; i++)
        grid->lstar[i] -= shading.slope * linear_term(grid, i % grid->cols) +
                          shading.bend * square_term(grid, i % grid->cols);
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
    grid.lstar = calloc(grid.windows * grid.cols, sizeof *grid.lstar);
    grid.xyz = calloc(3 * grid.windows * grid.cols, sizeof *grid.xyz);
    if (!grid.lstar || !grid.xyz) {
        tdm_strand_grid_free(&grid);
        return tdm_fail_memory(error, NULL);
    }
    fill(strip, first, per_window, &grid);
    flatten_along(&grid);
    flatten_across(&grid);
    *out = grid;
    return TDM_OK;
}

void tdm_strand_grid_free(tdm_strand_grid *grid)
{
    free(grid->lstar);
    free(grid->xyz);
    *grid = (tdm_strand_grid){0};
}
