/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/evenness_grid.h"

#include <math.h>
#include <stdlib.h>

#include "base/fail.h"
#include "measure/polish.h"
#include "measure/squares.h"

enum { QUARTERS = 4 };
static const double reach = 0.765;       /* widths from the centre where a line has a fortieth to go */
static const double scatter = 3;         /* of its stagger */
static const double most_left_out = 0.5; /* of the path: a longer line is a course, which rows take out */

static double cell_sum(const tdm_strip *strip, const tdm_even_lay *lay, size_t row, size_t col, double xyz[3])
{
    if (lay->half == TDM_EVEN_WHOLE)
        return tdm_square_sum(strip, row, lay->size, col, lay->size, xyz);
    double used = 0;
    xyz[0] = xyz[1] = xyz[2] = 0;
    for (size_t i = lay->half == TDM_EVEN_FIRST ? 0 : 1; i < QUARTERS; i += 2) {
        const size_t from = i * lay->size / QUARTERS, to = (i + 1) * lay->size / QUARTERS;
        double part[3];
        used += tdm_square_sum(strip, row, lay->size, col + from, to - from, part);
        for (int k = 0; k < 3; k++)
            xyz[k] += part[k];
    }
    return used;
}

/* Leaves NaN what can't be told. */
static void fill(const tdm_strip *strip, const tdm_even_lay *lay, tdm_even_grid *grid)
{
    const double whole = (double)(lay->size * lay->size) * (lay->half == TDM_EVEN_WHOLE ? 1 : 0.5);
    for (size_t cell = 0; cell < grid->rows * grid->cols; cell++) {
        const size_t row = cell / grid->cols * lay->step, col = cell % grid->cols * lay->step;
        const double from = (double)row * strip->cell, to = (double)(row + lay->size) * strip->cell;
        double *xyz = grid->own + 3 * cell;
        const double used = cell_sum(strip, lay, row, col, xyz);
        const bool on_line = from < lay->line_to && to > lay->line_from;
        const bool good = used >= 0.5 * whole && xyz[0] > 0 && xyz[1] > 0 && xyz[2] > 0 && !on_line;
        for (int k = 0; k < 3; k++)
            xyz[k] = good ? xyz[k] / used : (double)NAN;
    }
}

/* Light multiplies: rows and columns are factors of linear light. */
tdm_code tdm_even_grid_without(tdm_even_grid *grid, const uint8_t *those, tdm_error *error)
{
    const size_t count = grid->rows * grid->cols;
    double *plane = malloc((count + grid->rows + grid->cols + 1) * sizeof *plane);
    if (!plane)
        return tdm_fail_memory(error, NULL);
    for (size_t k = 0; k < 3; k++) {
        for (size_t cell = 0; cell < count; cell++)
            plane[cell] = log(grid->own[3 * cell + k]);
        tdm_polish(plane, those, grid->rows, grid->cols, plane + count);
        for (size_t cell = 0; cell < count; cell++)
            grid->usual[3 * cell + k] = grid->own[3 * cell + k] * exp(-plane[cell]);
    }
    free(plane);
    return TDM_OK;
}

tdm_code tdm_even_grid_make(const tdm_strip *strip, const tdm_even_lay *lay, tdm_even_grid *out,
                            tdm_error *error)
{
    tdm_even_grid grid = {.rows = 0};
    if (strip->rows >= lay->size && strip->cols >= lay->size) {
        grid.rows = (strip->rows - lay->size) / lay->step + 1;
        grid.cols = (strip->cols - lay->size) / lay->step + 1;
    }
    const size_t count = grid.rows * grid.cols;
    grid.own = calloc(3 * count + 1, sizeof *grid.own);
    grid.usual = calloc(3 * count + 1, sizeof *grid.usual);
    tdm_code code = TDM_OK;
    if (grid.own && grid.usual) {
        fill(strip, lay, &grid);
        code = tdm_even_grid_without(&grid, NULL, error);
    } else {
        code = tdm_fail_memory(error, NULL);
    }
    if (code == TDM_OK)
        *out = grid;
    else
        tdm_even_grid_free(&grid);
    return code;
}

void tdm_even_grid_free(tdm_even_grid *grid)
{
    free(grid->own);
    free(grid->usual);
    *grid = (tdm_even_grid){0};
}

bool tdm_even_known(const tdm_even_grid *grid, size_t cell)
{
    return isfinite(grid->own[3 * cell]);
}

static double stagger_of(const struct tdm_zone_reading *zone)
{
    const double stagger = zone->demarcation.stagger_mm.value;
    return isfinite(stagger) ? stagger : 0;
}

tdm_even_lay tdm_even_lay_of(const tdm_measure_input *input, const struct tdm_zone_reading *zone, double mm,
                             size_t steps)
{
    const tdm_strip *strip = input->strip;
    const tdm_shape_fit *fit = &input->fall->fit;
    const size_t step = (size_t)fmax(mm / (double)steps / strip->cell + 0.5, 1);
    tdm_even_lay lay = {.size = steps * step, .step = step};
    if (fit->shape != TDM_SHAPE_TRANSITION && fit->shape != TDM_SHAPE_BAND)
        return lay;
    const double away = reach * tdm_fall_width(input->fall) + scatter * stagger_of(zone);
    const double centre = fit->centre[tdm_fall_main_step(fit)];
    if (2 * away > most_left_out * input->fall->length)
        return lay;
    lay.line_from = centre - away;
    lay.line_to = centre + away;
    return lay;
}
