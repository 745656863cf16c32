/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/scielab.h"

#include <gsl/gsl_math.h>
#include <math.h>
#include <stdlib.h>

#include "base/fail.h"
#include "colour/lab.h"
#include "colour/matrix.h"
#include "measure/scielab_blur.h"

/* Zhang and Wandell (1997): weights, and spreads s of exp(-r^2 / s^2) in degrees. Each opponent's weights are
 * brought to a sum of 1 here, so that a plain area stays as it is. */
typedef struct term {
    double weight, spread;
} term;

enum { MOST_TERMS = 3 };
static const term kernels[TDM_OPPONENTS][MOST_TERMS] = {
    {{0.921, 0.0283}, {0.105, 0.133}, {-0.108, 4.336}},
    {{0.531, 0.0392}, {0.330, 0.494}},
    {{0.488, 0.0536}, {0.371, 0.386}},
};
static const double finest_spread = 0.0283;
/* Cells of what is seen, in standard deviations of the finest Gaussian: it stays above the 0.75 cells from
 * which on, sampled, it is a Gaussian still. */
static const double sigmas_a_cell = 1.25;

/* XYZ (1931) to opponent colours: Poirson and Wandell (1993), as in the authors' program of 1996. */
static const double opponent[9] = {0.2787336,  0.7218031,  -0.1065520, //
                                   -0.4487736, 0.2898056,  0.0771569,  //
                                   0.0859513,  -0.5899859, 0.5011089};
/* The matrix is for a display near D65. The eye is used to the light it is in: greys are taken to greys by
 * Bradford's transform, so that a pattern of greys has no colour to be blurred otherwise than its lightness.
 */
static const double bradford[9] = {0.8951, 0.2664, -0.1614, -0.7502, 1.7135, 0.0367, 0.0389, -0.0685, 1.0296};
static const double white_d65[3] = {0.95047, 1, 1.08883}; /* as in sRGB, IEC 61966-2-1 */

double tdm_view_mm(double distance_m, double degrees)
{
    return 2000 * distance_m * tan(0.5 * degrees * M_PI / 180);
}

static bool colour_matrices(double to[9], double from[9])
{
    double cones50[3], cones65[3], back[9], scaled[9];
    tdm_matrix_apply(bradford, tdm_white_d50, cones50);
    tdm_matrix_apply(bradford, white_d65, cones65);
    for (int i = 0; i < 9; i++)
        scaled[i] = bradford[i] * cones65[i / 3] / cones50[i / 3];
    if (!tdm_matrix_invert(bradford, back))
        return false;
    tdm_matrix_multiply(back, scaled, to);
    tdm_matrix_multiply(opponent, to, to);
    return tdm_matrix_invert(to, from);
}

void tdm_scielab_free(tdm_scielab *scielab)
{
    for (int k = 0; k < TDM_OPPONENTS; k++)
        free(scielab->plane[k]);
    free(scielab->share);
    *scielab = (tdm_scielab){0};
}

void tdm_seen_free(tdm_seen *seen)
{
    free(seen->lab);
    free(seen->use);
    *seen = (tdm_seen){0};
}

tdm_code tdm_scielab_make(const tdm_strip *strip, tdm_scielab *out, tdm_error *error)
{
    const size_t cells = strip->rows * strip->cols;
    tdm_scielab made = {.rows = strip->rows, .cols = strip->cols, .cell = strip->cell};
    double to[9], from[9];
    made.share = malloc(cells * sizeof *made.share);
    bool good = made.share != NULL;
    for (int k = 0; k < TDM_OPPONENTS; k++) {
        made.plane[k] = malloc(cells * sizeof *made.plane[k]);
        good = good && made.plane[k];
    }
    if (!good || !colour_matrices(to, from)) {
        tdm_scielab_free(&made);
        return tdm_fail_memory(error, NULL);
    }
    for (size_t i = 0; i < cells; i++) {
        const float *xyz = strip->xyz + 3 * i;
        const double here[3] = {(double)xyz[0], (double)xyz[1], (double)xyz[2]};
        double colour[3] = {0, 0, 0};
        if (strip->use[i])
            tdm_matrix_apply(to, here, colour);
        made.share[i] = strip->use[i] ? 1 : 0;
        for (int k = 0; k < TDM_OPPONENTS; k++)
            made.plane[k][i] = (float)colour[k];
    }
    *out = made;
    return TDM_OK;
}

/* One opponent plane through its kernel, added up in `sum`; `blurred` is scratch. */
static tdm_code filter(const tdm_grid *grid, const term *terms, double degree_cells, float *sum,
                       float *blurred, tdm_error *error)
{
    double weights = 0;
    for (int k = 0; k < MOST_TERMS; k++)
        weights += terms[k].weight;
    for (size_t i = 0; i < grid->rows * grid->cols; i++)
        sum[i] = 0;
    for (int k = 0; k < MOST_TERMS && terms[k].spread > 0; k++) {
        const tdm_code code = tdm_grid_blur(grid, terms[k].spread / M_SQRT2 * degree_cells, blurred, error);
        if (code != TDM_OK)
            return code;
        const float weight = (float)(terms[k].weight / weights);
        for (size_t i = 0; i < grid->rows * grid->cols; i++)
            sum[i] += weight * blurred[i];
    }
    return TDM_OK;
}

/* The filtered planes back to XYZ, in place of one another, then CIELAB. */
static void to_lab(const double from[9], const float *planes, tdm_seen *seen)
{
    const size_t cells = seen->rows * seen->cols;
    for (size_t i = 0; i < cells; i++) {
        double colour[3], xyz[3];
        for (size_t k = 0; k < TDM_OPPONENTS; k++)
            colour[k] = (double)planes[k * cells + i];
        tdm_matrix_apply(from, colour, xyz);
        for (size_t k = 0; k < 3; k++)
            seen->lab[3 * i + k] = (float)xyz[k];
    }
    tdm_xyz_to_lab_many(seen->lab, seen->lab, cells);
}

/* Fills all but the colours. */
static tdm_code lay_out(const tdm_scielab *scielab, const float *share, size_t factor, tdm_seen *out,
                        tdm_error *error)
{
    *out = (tdm_seen){.rows = (scielab->rows + factor - 1) / factor,
                      .cols = (scielab->cols + factor - 1) / factor,
                      .cell = (double)factor * scielab->cell};
    const size_t cells = out->rows * out->cols;
    out->lab = malloc(3 * cells * sizeof *out->lab);
    out->use = malloc(cells);
    if (!out->lab || !out->use) {
        tdm_seen_free(out);
        return tdm_fail_memory(error, NULL);
    }
    for (size_t i = 0; i < cells; i++)
        out->use[i] = share[i] >= 0.5F;
    return TDM_OK;
}

static tdm_code filter_all(const tdm_scielab *scielab, size_t factor, double degree_cells, tdm_seen *out,
                           tdm_error *error)
{
    tdm_code code = TDM_OK;
    tdm_seen seen = {0};
    float *planes = NULL;
    size_t cells = 0;
    double to[9], from[9];
    for (size_t k = 0; code == TDM_OK && k < TDM_OPPONENTS; k++) {
        const tdm_grid fine = {scielab->rows, scielab->cols, scielab->plane[k], scielab->share, 1.0 / 12};
        tdm_grid grid = {0};
        code = tdm_grid_thin(&fine, factor, &grid, error);
        if (code == TDM_OK && k == 0) {
            code = lay_out(scielab, grid.share, factor, &seen, error);
            cells = grid.rows * grid.cols;
            planes = malloc((TDM_OPPONENTS + 1) * cells * sizeof *planes); /* and one for scratch */
            if (code == TDM_OK && !planes)
                code = tdm_fail_memory(error, NULL);
        }
        if (code == TDM_OK)
            code = filter(&grid, kernels[k], degree_cells, planes + k * cells, planes + TDM_OPPONENTS * cells,
                          error);
        tdm_grid_free(&grid);
    }
    if (code == TDM_OK && colour_matrices(to, from))
        to_lab(from, planes, &seen);
    free(planes);
    if (code != TDM_OK) {
        tdm_seen_free(&seen);
        return code;
    }
    *out = seen;
    return TDM_OK;
}

tdm_code tdm_scielab_see(const tdm_scielab *scielab, double distance_m, tdm_seen *out, tdm_error *error)
{
    const double degree = tdm_view_mm(distance_m, 1) / scielab->cell;
    const size_t factor = (size_t)fmin(fmax(sigmas_a_cell * finest_spread / M_SQRT2 * degree, 1), 1000);
    return filter_all(scielab, factor, degree / (double)factor, out, error);
}
