/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From the free numbers of a fit to curves, matrix and root terms. */
#include <math.h>
#include <string.h>

#include "colour/lab.h"
#include "colour/matrix.h"
#include "colour/monotone.h"
#include "colour/target.h"

enum { FEWEST_NEUTRALS = 3, TURNS = 4 };
static const double least_rise = 1e-6;

/* Rows of matrix and root terms together sum to one, so that equal RGB stays white of its brightness. */
static void set_mixing(const double free[TDM_FREE], const tdm_terms *terms, const double primaries[9],
                       tdm_calibration *out)
{
    double matrix[9];
    const double *off = free + TDM_FREE_MATRIX, *roots = free + TDM_FREE_ROOTS;
    for (int row = 0, k = 0; row < 3; row++) {
        double sum = 0;
        for (int column = 0; column < 3; column++) {
            sum += roots[3 * row + column];
            if (column == row)
                continue;
            matrix[3 * row + column] = off[k];
            sum += off[k++];
        }
        matrix[4 * row] = 1 - sum;
    }
    out->rooted = terms->rooted;
    tdm_matrix_multiply(primaries, matrix, out->from_rgb);
    tdm_matrix_multiply(primaries, roots, out->from_roots);
}

/* The inverse of how mixing goes near a neutral colour. */
static bool undoing(const tdm_calibration *calibration, double inverse[9])
{
    static const double slopes[9] = {0.5, 0.5, 0, 0,  0.5,
                                     0.5, 0.5, 0, 0.5}; /* of √rg, √gb, √rb at r = g = b */
    double whole[9];
    tdm_matrix_multiply(calibration->from_roots, slopes, whole);
    for (int i = 0; i < 9; i++)
        whole[i] += calibration->from_rgb[i];
    return tdm_matrix_invert(whole, inverse);
}

/* RGB that mix to a nearly neutral XYZ. Without root terms the first turn is exact. */
static void unmix(const tdm_calibration *calibration, const double inverse[9], const double xyz[3],
                  double rgb[3])
{
    tdm_matrix_apply(inverse, xyz, rgb);
    for (int turn = 0; turn < TURNS && calibration->rooted; turn++) {
        double off[3];
        tdm_calibration_mix(calibration, rgb, off);
        for (int i = 0; i < 3; i++)
            off[i] = xyz[i] - off[i];
        tdm_matrix_apply(inverse, off, off);
        for (int i = 0; i < 3; i++)
            rgb[i] += off[i];
    }
}

/* Takes a patch's channels, after the curve, to even light. */
static void even_factors(const tdm_patch *patch, int index, const tdm_target_fit *fit, double factors[3])
{
    const double *slope = fit->free + TDM_FREE_SLOPE;
    const double step = fit->terms.stepped ? fit->free[TDM_FREE_STEP] * fit->terms.side[index] : 0;
    const double even = exp2(-(slope[0] * patch->place[0] + slope[1] * patch->place[1] + step));
    for (int c = 0; c < 3; c++)
        factors[c] = patch->factor[c] * even;
}

/* Adds a knot; false where the curve wouldn't rise. The first is zero: no light, no colour. */
static bool add_knot(tdm_calibration *out, const double in[3], const double wanted[3])
{
    const int k = out->knots++;
    for (int c = 0; c < 3; c++) {
        out->curve_in[c][k] = cbrt(in[c]);
        out->curve_out[c][k] = cbrt(wanted[c]);
        if (k > 0 && !(out->curve_in[c][k] > out->curve_in[c][k - 1] + least_rise &&
                       out->curve_out[c][k] > out->curve_out[c][k - 1] + least_rise))
            return false;
    }
    return true;
}

/* From the kept neutral patches to what the mixing must be given for them, in their own light. */
static bool set_curves(const tdm_target *target, int without, tdm_target_fit *out)
{
    static const double zero[3] = {0};
    tdm_calibration *calibration = &out->calibration;
    double inverse[9];
    calibration->knots = 0;
    if (!undoing(calibration, inverse) || !add_knot(calibration, zero, zero))
        return false;
    for (int i = TDM_PATCHES - 1; i >= TDM_FIRST_NEUTRAL; i--) {
        const tdm_patch *patch = &target->patches[i];
        double wanted[3], factors[3];
        if (patch->state != TDM_PATCH_KEPT || i == without)
            continue;
        unmix(calibration, inverse, patch->xyz, wanted);
        even_factors(patch, i, out, factors);
        for (int c = 0; c < 3; c++)
            wanted[c] /= factors[c];
        if (!add_knot(calibration, patch->rgb, wanted))
            return false;
    }
    for (int c = 0; c < 3; c++)
        tdm_monotone_slopes(calibration->curve_in[c], calibration->curve_out[c], calibration->knots,
                            calibration->curve_slope[c]);
    return calibration->knots > FEWEST_NEUTRALS;
}

bool tdm_target_build(const tdm_target *target, int without, tdm_target_fit *out)
{
    out->calibration = target->start;
    out->calibration.method = TDM_CALIBRATION_TARGET;
    set_mixing(out->free, &out->terms, target->start.from_rgb, &out->calibration);
    return set_curves(target, without, out);
}

void tdm_target_patch_lab(const tdm_target *target, const tdm_target_fit *fit, int patch, double lab[3])
{
    const tdm_patch *from = &target->patches[patch];
    double even[3];
    even_factors(from, patch, fit, even);
    for (int c = 0; c < 3; c++)
        even[c] *= tdm_calibration_channel(&fit->calibration, c, from->rgb[c]);
    tdm_calibration_mix(&fit->calibration, even, even);
    tdm_xyz_to_lab(even, lab);
}
