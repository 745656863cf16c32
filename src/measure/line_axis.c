/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/line_axis.h"

#include <gsl/gsl_linalg.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "colour/lab.h"
#include "measure/matte.h"

static const double window_mm = 8; /* what differs over less than this hardly moves a fit */
static const double least_sd =
    0.3; /* CIELAB units: below it differences are of the arithmetic and the camera */
static const double most_length = 1.5; /* of the axis, the colour line's direction having 1: a choice */
enum { LEAST_COLUMNS = 4, TERMS = 4 };

/* Without the gloss and the light along the fall that the whole was freed from. */
static bool column_lab(const tdm_columns *columns, const tdm_fall *fall, size_t from, size_t to, size_t block,
                       double lab[3])
{
    double sum[3] = {0, 0, 0}, cells = 0;
    for (size_t i = from; i < to; i++) {
        const size_t at = i * columns->blocks + block;
        cells += columns->cells[at];
        for (size_t k = 0; k < 3; k++)
            sum[k] += columns->sum[3 * at + k];
    }
    if (cells <= 0)
        return false;
    for (size_t k = 0; k < 3; k++)
        sum[k] /= cells;
    const size_t middle = (from + to) / 2;
    tdm_matte_colour(sum, fall->gloss[middle], fall->light[middle], sum);
    tdm_xyz_to_lab(sum, lab);
    return true;
}

/* Adds the columns' scatter about their mean in one window, and their degrees of freedom. */
static void add_window(const tdm_columns *columns, const tdm_fall *fall, size_t from, size_t to, double *labs,
                       double scatter[9], double *freedom)
{
    size_t count = 0;
    double mean[3] = {0, 0, 0};
    for (size_t block = 0; block < columns->blocks; block++) {
        if (!column_lab(columns, fall, from, to, block, labs + 3 * count))
            continue;
        for (size_t k = 0; k < 3; k++)
            mean[k] += labs[3 * count + k];
        count++;
    }
    if (count < LEAST_COLUMNS)
        return;
    for (size_t i = 0; i < count; i++) {
        for (size_t row = 0; row < 3; row++) {
            for (size_t col = 0; col < 3; col++)
                scatter[3 * row + col] += (labs[3 * i + row] - mean[row] / (double)count) *
                                          (labs[3 * i + col] - mean[col] / (double)count);
        }
    }
    *freedom += (double)(count - 1);
}

static void discriminant(double scatter[9], double freedom, const double direction[3], double axis[3])
{
    double right[3], along = 0;
    memcpy(right, direction, sizeof right);
    for (size_t k = 0; k < 9; k++)
        scatter[k] /= freedom;
    for (size_t k = 0; k < 3; k++)
        scatter[4 * k] += least_sd * least_sd;
    gsl_matrix_view matrix = gsl_matrix_view_array(scatter, 3, 3);
    gsl_vector_view vector = gsl_vector_view_array(right, 3);
    if (gsl_linalg_cholesky_decomp1(&matrix.matrix) != GSL_SUCCESS ||
        gsl_linalg_cholesky_svx(&matrix.matrix, &vector.vector) != GSL_SUCCESS)
        return;
    for (size_t k = 0; k < 3; k++)
        along += right[k] * direction[k];
    for (size_t k = 0; k < 3 && along > 0; k++)
        axis[k] = right[k] / along;
}

static double straight(const tdm_line_axis *axis, const double lab[3])
{
    double value = 0;
    for (size_t k = 0; k < 3; k++)
        value += axis->axis[k] * (lab[k] - axis->origin[k]);
    return value;
}

double tdm_line_axis_value(const tdm_line_axis *axis, const double lab[3])
{
    const double x = straight(axis, lab) / axis->unit;
    double value = 0;
    for (size_t k = TERMS; k > 0; k--)
        value = value * x + axis->bend[k - 1];
    return value;
}

/* Whether the value rises all along the step, nowhere at less than a third of its own pace. */
static bool rises(const tdm_line_axis *axis)
{
    for (double x = 0; x <= 1; x += 0.125) {
        const double pace = axis->bend[1] + 2 * axis->bend[2] * x + 3 * axis->bend[3] * x * x;
        if (!(pace / axis->unit > 1.0 / 3) || !(pace / axis->unit < 3))
            return false;
    }
    return true;
}

/* A cubic that takes the zone's mean course on the axis to that on the colour line, by least squares. */
static bool find_bend(const tdm_fall *fall, double from, double to, tdm_line_axis *out)
{
    double normal[TERMS * TERMS] = {0}, right[TERMS] = {0};
    const double step = fall->fit.step[tdm_fall_main_step(&fall->fit)];
    out->unit = fabs(step) > 1 ? step : 1;
    for (size_t i = 0; i < fall->bins; i++) {
        if (fall->weight[i] <= 0 || fall->along[i] < from || fall->along[i] > to)
            continue;
        const double *lab = fall->lab + 3 * i;
        const double x = straight(out, lab) / out->unit, value = tdm_fall_project(fall, lab);
        const double power[TERMS] = {1, x, x * x, x * x * x};
        for (size_t row = 0; row < TERMS; row++) {
            for (size_t col = 0; col < TERMS; col++)
                normal[TERMS * row + col] += fall->weight[i] * power[row] * power[col];
            right[row] += fall->weight[i] * power[row] * value;
        }
    }
    for (size_t k = 0; k < TERMS; k++)
        normal[(TERMS + 1) * k] *= 1 + 1e-9;
    gsl_matrix_view matrix = gsl_matrix_view_array(normal, TERMS, TERMS);
    gsl_vector_view vector = gsl_vector_view_array(right, TERMS);
    if (gsl_linalg_cholesky_decomp1(&matrix.matrix) != GSL_SUCCESS ||
        gsl_linalg_cholesky_svx(&matrix.matrix, &vector.vector) != GSL_SUCCESS)
        return false;
    memcpy(out->bend, right, sizeof right);
    return rises(out);
}

static void plain(const tdm_fall *fall, tdm_line_axis *out)
{
    *out = (tdm_line_axis){.unit = 1, .bend = {0, 1, 0, 0}};
    memcpy(out->origin, fall->root_lab, sizeof out->origin);
    memcpy(out->axis, fall->direction, sizeof out->axis);
}

/* No further from the colour line than so much longer than it: what is gained on shade is lost on shine and
 * on the camera's noise. */
static void hold_length(const double direction[3], double axis[3])
{
    double off = 0;
    for (size_t k = 0; k < 3; k++)
        off += (axis[k] - direction[k]) * (axis[k] - direction[k]);
    const double part = off > 0 ? fmin(1, sqrt((most_length * most_length - 1) / off)) : 1;
    for (size_t k = 0; k < 3; k++)
        axis[k] = direction[k] + part * (axis[k] - direction[k]);
}

tdm_code tdm_line_axis_make(const tdm_columns *columns, const tdm_fall *fall, double from, double to,
                            tdm_line_axis *out, tdm_error *error)
{
    double *labs = calloc(columns->blocks, 3 * sizeof *labs);
    if (!labs)
        return tdm_fail_memory(error, NULL);
    double scatter[9] = {0}, freedom = 0;
    const size_t window = (size_t)fmax(window_mm / columns->bin, 1);
    for (size_t i = 0; i + window <= columns->bins; i += window) {
        if (fall->along[i] >= from && fall->along[i + window - 1] <= to)
            add_window(columns, fall, i, i + window, labs, scatter, &freedom);
    }
    plain(fall, out);
    if (freedom > 0) {
        discriminant(scatter, freedom, fall->direction, out->axis);
        hold_length(fall->direction, out->axis);
        if (!find_bend(fall, from, to, out))
            plain(fall, out);
    }
    free(labs);
    return TDM_OK;
}
