/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A curve a channel through the neutral row, then the 3x3 matrix with rows that sum to one which brings the
 * patches nearest to their references by CIEDE2000, robustly. */
#include <gsl/gsl_multifit_nlinear.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "colour/lab.h"
#include "colour/matrix.h"
#include "colour/monotone.h"
#include "colour/target.h"

enum { FEWEST_NEUTRALS = 3, FEWEST_PATCHES = 10, FREE = 6, TURNS = 4, ROUNDS = 4, ITERATIONS = 20 };
static const double tuning = 1.345;    /* Huber 1981 */
static const double least_scale = 0.5; /* CIEDE2000: nothing below is an outlier */

void tdm_patch_lab(const tdm_calibration *calibration, const double rgb[3], double lab[3])
{
    double triple[3];
    for (int c = 0; c < 3; c++)
        triple[c] = tdm_calibration_channel(calibration, c, rgb[c]);
    tdm_matrix_apply(calibration->from_rgb, triple, triple);
    tdm_xyz_to_lab(triple, lab);
}

/* Adds a knot; false where the curve wouldn't rise. The first is zero: no light, no colour. */
static bool add_knot(tdm_calibration *out, const double in[3], const double wanted[3])
{
    const int k = out->knots++;
    for (int c = 0; c < 3; c++) {
        out->curve_in[c][k] = cbrt(in[c]);
        out->curve_out[c][k] = cbrt(wanted[c]);
        if (k > 0 && !(out->curve_in[c][k] > out->curve_in[c][k - 1] + 1e-6 &&
                       out->curve_out[c][k] > out->curve_out[c][k - 1] + 1e-6))
            return false;
    }
    return true;
}

/* From the kept neutral patches to what the matrix must be given for them. */
static bool fit_curve(const tdm_patch *patches, const double matrix[9], tdm_calibration *out)
{
    static const double zero[3] = {0};
    double inverse[9];
    out->knots = 0;
    if (!tdm_matrix_invert(matrix, inverse) || !add_knot(out, zero, zero))
        return false;
    for (int i = TDM_PATCHES - 1; i >= TDM_FIRST_NEUTRAL; i--) {
        double wanted[3];
        tdm_matrix_apply(inverse, patches[i].wanted, wanted);
        if (patches[i].kept && !add_knot(out, patches[i].rgb, wanted))
            return false;
    }
    for (int c = 0; c < 3; c++)
        tdm_monotone_slopes(out->curve_in[c], out->curve_out[c], out->knots, out->curve_slope[c]);
    return out->knots > FEWEST_NEUTRALS;
}

/* The kept patches after the curve, and what the search needs. */
typedef struct fitting {
    size_t count;
    double shaped[TDM_PATCHES][3];
    double wanted[TDM_PATCHES][3];
    double lab[TDM_PATCHES][3];
    const double *primaries;
} fitting;

static void gather(const tdm_patch *patches, const tdm_calibration *curve, const double *primaries,
                   fitting *out)
{
    *out = (fitting){.primaries = primaries};
    for (int i = 0; i < TDM_PATCHES; i++) {
        if (!patches[i].kept)
            continue;
        for (int c = 0; c < 3; c++)
            out->shaped[out->count][c] = tdm_calibration_channel(curve, c, patches[i].rgb[c]);
        memcpy(out->wanted[out->count], patches[i].wanted, sizeof patches[i].wanted);
        memcpy(out->lab[out->count], tdm_reference_patches[i].lab, sizeof out->lab[0]);
        out->count++;
    }
}

/* The two free entries of each row, left to right; the diagonal makes the row's sum one. */
static void expand(const double free[FREE], double matrix[9])
{
    for (int row = 0; row < 3; row++) {
        double sum = 0;
        for (int column = 0, k = 2 * row; column < 3; column++) {
            if (column == row)
                continue;
            matrix[3 * row + column] = free[k];
            sum += free[k++];
        }
        matrix[4 * row] = 1 - sum;
    }
}

/* Weighted linear least squares a row; weights even out lightness (the slope of L* goes as Y^(-2/3)). */
static bool start_row(const fitting *data, int row, double free[2])
{
    const int a = row == 0 ? 1 : 0, b = row == 2 ? 1 : 2;
    double aa = 0, ab = 0, bb = 0, at = 0, bt = 0;
    for (size_t i = 0; i < data->count; i++) {
        const double *in = data->shaped[i];
        const double u = in[a] - in[row], v = in[b] - in[row], t = data->wanted[i][row] - in[row];
        const double weight = pow(fmax(data->wanted[i][1], 0.01), -4.0 / 3);
        aa += weight * u * u;
        ab += weight * u * v;
        bb += weight * v * v;
        at += weight * u * t;
        bt += weight * v * t;
    }
    const double determinant = aa * bb - ab * ab;
    if (!(determinant > 1e-12 * aa * bb))
        return false;
    free[0] = (at * bb - bt * ab) / determinant;
    free[1] = (bt * aa - at * ab) / determinant;
    return true;
}

static int residuals(const gsl_vector *free, void *context, gsl_vector *out)
{
    const fitting *data = context;
    double matrix[9], whole[9];
    expand(free->data, matrix);
    tdm_matrix_multiply(data->primaries, matrix, whole);
    for (size_t i = 0; i < data->count; i++) {
        double lab[3], parts[3];
        tdm_matrix_apply(whole, data->shaped[i], lab);
        tdm_xyz_to_lab(lab, lab);
        tdm_de00_parts(data->lab[i], lab, parts);
        for (size_t k = 0; k < 3; k++)
            gsl_vector_set(out, 3 * i + k, parts[k]);
    }
    return GSL_SUCCESS;
}

static double length3(const gsl_vector *parts, size_t patch)
{
    const double *p = parts->data + 3 * patch;
    return sqrt(p[0] * p[0] + p[1] * p[1] + p[2] * p[2]);
}

static int compare_doubles(const void *a, const void *b)
{
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static void weigh(const gsl_vector *parts, size_t count, gsl_vector *weights)
{
    double sorted[TDM_PATCHES];
    for (size_t i = 0; i < count; i++)
        sorted[i] = length3(parts, i);
    qsort(sorted, count, sizeof *sorted, compare_doubles);
    const double limit = tuning * fmax(1.4826 * sorted[count / 2], least_scale);
    for (size_t i = 0; i < count; i++) {
        const double miss = length3(parts, i);
        for (size_t k = 0; k < 3; k++)
            gsl_vector_set(weights, 3 * i + k, miss > limit ? limit / miss : 1);
    }
}

/* Levenberg-Marquardt, reweighted a fixed number of times. */
static void refine(fitting *data, gsl_multifit_nlinear_workspace *work, gsl_vector *free, gsl_vector *parts,
                   gsl_vector *weights)
{
    gsl_multifit_nlinear_fdf problem = {.f = residuals, .n = 3 * data->count, .p = FREE, .params = data};
    for (int round = 0; round < ROUNDS; round++) {
        int info = 0;
        (void)residuals(free, data, parts);
        weigh(parts, data->count, weights);
        (void)gsl_multifit_nlinear_winit(free, weights, &problem, work);
        /* Running out of steps is no fault: the best so far stands, and the residuals are reported. */
        (void)gsl_multifit_nlinear_driver(ITERATIONS, 1e-9, 1e-9, 0, NULL, NULL, &info, work);
        (void)gsl_vector_memcpy(free, gsl_multifit_nlinear_position(work));
    }
}

static bool search(fitting *data, double free[FREE])
{
    const gsl_multifit_nlinear_parameters parameters = gsl_multifit_nlinear_default_parameters();
    gsl_multifit_nlinear_workspace *work =
        gsl_multifit_nlinear_alloc(gsl_multifit_nlinear_trust, &parameters, 3 * data->count, FREE);
    gsl_vector *parts = gsl_vector_alloc(3 * data->count), *weights = gsl_vector_alloc(3 * data->count);
    gsl_vector_view view = gsl_vector_view_array(free, FREE);
    const bool ready = work && parts && weights;
    if (ready)
        refine(data, work, &view.vector, parts, weights);
    gsl_multifit_nlinear_free(work);
    gsl_vector_free(parts);
    gsl_vector_free(weights);
    for (int i = 0; i < FREE; i++) {
        if (!isfinite(free[i]))
            return false;
    }
    return ready;
}

/* One fit of the matrix to the patches as the present curve leaves them. */
static bool fit_matrix(const tdm_patch *patches, const tdm_calibration *curve, const double *primaries,
                       bool first, double free[FREE])
{
    fitting data;
    gather(patches, curve, primaries, &data);
    if (data.count < FEWEST_PATCHES)
        return false;
    for (int row = 0; first && row < 3; row++) {
        if (!start_row(&data, row, free + 2 * row))
            return false;
    }
    return search(&data, free);
}

/* The neutral patches aren't quite neutral, so curve and matrix depend on each other a little: in turns. */
bool tdm_target_fit(const tdm_patch patches[TDM_PATCHES], const tdm_calibration *start, tdm_calibration *out)
{
    double free[FREE], matrix[9] = {1, 0, 0, 0, 1, 0, 0, 0, 1};
    *out = *start;
    out->method = TDM_CALIBRATION_TARGET;
    for (int turn = 0; turn < TURNS; turn++) {
        if (!fit_curve(patches, matrix, out) || !fit_matrix(patches, out, start->from_rgb, turn == 0, free))
            return false;
        expand(free, matrix);
    }
    tdm_matrix_multiply(start->from_rgb, matrix, out->from_rgb);
    return true;
}
