/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Patchiness: how colour varies over areas larger than strands. */
#include <math.h>
#include <stdlib.h>

#include "base/fail.h"
#include "colour/lab.h"
#include "measure/budget.h"
#include "measure/evenness_grid.h"
#include "measure/spread.h"

/* Choices: a cell is larger than any ribbon, and several make a zone. */
static const double cell_mm = 10;
static const double left = 0.25; /* of even hair's, found where none was drawn: standard uncertainty */
enum { LEAST_ROWS = 4, LEAST_COLS = 3, LEAST_CELLS = 10 };

/* Squares of the cells' differences from what row and column make of them, and of CIEDE2000, each without
 * what the halves' own strands add. */
typedef struct squares {
    double *lstar, *de00;
    size_t count;
} squares;

/* A cell's colour around the same usual one, whichever half it was seen in. */
static void colour_of(const tdm_even_grid *whole, const tdm_even_grid *half, size_t cell, double lab[3])
{
    double xyz[3];
    for (size_t k = 3 * cell; k < 3 * cell + 3; k++)
        xyz[k - 3 * cell] = whole->usual[k] * half->own[k] / half->usual[k];
    tdm_xyz_to_lab(xyz, lab);
}

/* Halves hold strands of their own: what differs between them is chance, what they share isn't. */
static void add_cell(const tdm_even_grid grids[3], size_t cell, squares *out)
{
    double usual[3], half[2][3], mean[3];
    tdm_xyz_to_lab(grids[0].usual + 3 * cell, usual);
    colour_of(&grids[0], &grids[1], cell, half[0]);
    colour_of(&grids[0], &grids[2], cell, half[1]);
    for (int k = 0; k < 3; k++)
        mean[k] = 0.5 * (half[0][k] + half[1][k]);
    const double chance = 0.5 * tdm_de00(half[0], half[1]), seen = tdm_de00(mean, usual);
    out->lstar[out->count] = (half[0][0] - usual[0]) * (half[1][0] - usual[0]);
    out->de00[out->count++] = seen * seen - chance * chance;
}

/* A twentieth at either end is taken to the rest: one cell of a clip left unmasked isn't the zone. */
static const double kept =
    0.913; /* E min(x, x95) of x = chi squared with one degree of freedom, whose mean is 1 */

static double winsorised_mean(double *values, size_t count)
{
    double sum = 0;
    const double low = tdm_quantile(values, count, 0.05), high = tdm_quantile(values, count, 0.95);
    for (size_t i = 0; i < count; i++)
        sum += fmin(fmax(values[i], low), high);
    return sum / (double)count / kept;
}

/* Rows and columns that were fitted have taken their share of the variance. Below 0 where chance alone
 * explains more than there is. */
static double spread_of(double *values, size_t count, double freedom)
{
    const double square = winsorised_mean(values, count) / freedom;
    return copysign(sqrt(fabs(square)), square);
}

static tdm_code put_spread(const tdm_measure_input *input, const double *values, size_t count, double freedom,
                           tdm_value *where, struct tdm_zone_reading *out, tdm_error *error)
{
    const size_t resamples = input->resampling->resamples;
    tdm_resampling draws = {0};
    double *some = malloc((2 * count + resamples) * sizeof *some);
    tdm_code code =
        some ? tdm_resampling_make(resamples, count, 3, &draws, error) : tdm_fail_memory(error, NULL);
    if (code == TDM_OK) {
        double *results = some + 2 * count;
        for (size_t i = 0; i < resamples; i++) {
            size_t next = 0;
            for (size_t k = 0; k < count; k++) {
                for (unsigned times = draws.times[i * count + k]; times > 0; times--)
                    some[next++] = values[k];
            }
            results[i] = spread_of(some, next, freedom);
        }
        for (size_t k = 0; k < count; k++)
            some[k] = values[k];
        const double spread = fmax(spread_of(some, count, freedom), 0);
        const double lightness = out->overall.lab[0];
        tdm_budget parts = tdm_difference_budget(input->sources, isfinite(lightness) ? lightness : 0, spread,
                                                 tdm_half_range(results, resamples) / 2, 0);
        parts.part[TDM_PART_METHOD] = left;
        tdm_put(out, where, spread, &parts);
    }
    tdm_resampling_free(&draws);
    free(some);
    return code;
}

/* Rows or columns that have a known cell. */
static size_t lines(const tdm_even_grid *grid, bool rows)
{
    const size_t outer = rows ? grid->rows : grid->cols, inner = rows ? grid->cols : grid->rows;
    size_t count = 0;
    for (size_t i = 0; i < outer; i++) {
        bool any = false;
        for (size_t j = 0; j < inner; j++)
            any = any || tdm_even_known(grid, rows ? i * grid->cols + j : j * grid->cols + i);
        count += any;
    }
    return count;
}

static tdm_code measure(const tdm_measure_input *input, const tdm_even_grid grids[3],
                        struct tdm_zone_reading *out, tdm_warnings *warnings, tdm_error *error)
{
    const size_t cells = grids[0].rows * grids[0].cols;
    const size_t rows = lines(&grids[0], true), cols = lines(&grids[0], false);
    squares found = {.lstar = malloc((cells + 1) * sizeof(double)),
                     .de00 = malloc((cells + 1) * sizeof(double))};
    tdm_code code = found.lstar && found.de00 ? TDM_OK : tdm_fail_memory(error, NULL);
    for (size_t i = 0; code == TDM_OK && i < cells; i++) {
        if (tdm_even_known(&grids[0], i) && tdm_even_known(&grids[1], i) && tdm_even_known(&grids[2], i))
            add_cell(grids, i, &found);
    }
    if (code == TDM_OK && (rows < LEAST_ROWS || cols < LEAST_COLS || found.count < LEAST_CELLS)) {
        code = tdm_warn(warnings, error, "small-evenness", input->zone,
                        "too little hair beside the line to tell patches; mark 30 mm across and 40 mm along");
    } else if (code == TDM_OK) {
        const double freedom = (double)((rows - 1) * (cols - 1)) / (double)(rows * cols);
        code =
            put_spread(input, found.lstar, found.count, freedom, &out->evenness.patchiness_lstar, out, error);
        if (code == TDM_OK)
            code = put_spread(input, found.de00, found.count, freedom, &out->evenness.patchiness_de00, out,
                              error);
        if (code == TDM_OK)
            code = tdm_even_warm(input, out, error);
    }
    free(found.lstar);
    free(found.de00);
    return code;
}

static tdm_code compute(const tdm_measure_input *input, struct tdm_zone_reading *out, tdm_warnings *warnings,
                        tdm_error *error)
{
    if (!input->strip->scaled)
        return TDM_OK; /* a patch is so many mm; the missing scale has its own warning */
    tdm_even_lay lay = tdm_even_lay_of(input, out, cell_mm, 1);
    tdm_even_grid grids[3] = {{0}};
    tdm_code code = TDM_OK;
    for (int i = 0; code == TDM_OK && i < 3; i++) {
        lay.half = (tdm_even_half)i;
        code = tdm_even_grid_make(input->strip, &lay, &grids[i], error);
    }
    if (code == TDM_OK)
        code = measure(input, grids, out, warnings, error);
    for (int i = 0; i < 3; i++)
        tdm_even_grid_free(&grids[i]);
    return code;
}

const tdm_measure tdm_measure_evenness = {.name = "evenness", .compute = compute};
