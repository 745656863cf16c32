/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the search for a fit begins: curves as if the matrix were one, then a linear fit. */
#include <math.h>
#include <string.h>

#include "colour/matrix.h"
#include "colour/target.h"

/* One coloured patch, linear working RGB: after the curves, and as its reference has it. */
typedef struct pair {
    double shaped[3], wanted[3];
} pair;

/* Weighted linear least squares a row; weights even out lightness (the slope of L* goes as Y^(-2/3)). */
static bool start_row(const pair *pairs, size_t count, int row, double free[2])
{
    const int a = row == 0 ? 1 : 0, b = row == 2 ? 1 : 2;
    double aa = 0, ab = 0, bb = 0, at = 0, bt = 0;
    for (size_t i = 0; i < count; i++) {
        const double *in = pairs[i].shaped, *wanted = pairs[i].wanted;
        const double u = in[a] - in[row], v = in[b] - in[row], t = wanted[row] - in[row];
        const double weight = pow(fmax(wanted[1], 0.01), -4.0 / 3);
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

bool tdm_target_start(const tdm_target *target, const int *coloured, size_t count, int without,
                      tdm_target_fit *fit)
{
    pair pairs[TDM_FIRST_NEUTRAL];
    memset(fit->free, 0, sizeof fit->free);
    if (!tdm_target_build(target, without, fit))
        return false;
    for (size_t i = 0; i < count; i++) {
        const tdm_patch *patch = &target->patches[coloured[i]];
        for (int c = 0; c < 3; c++)
            pairs[i].shaped[c] =
                patch->factor[c] * tdm_calibration_channel(&fit->calibration, c, patch->rgb[c]);
        tdm_matrix_apply(target->start.to_rgb, patch->xyz, pairs[i].wanted);
    }
    for (int row = 0; row < 3; row++) {
        if (!start_row(pairs, count, row, fit->free + TDM_FREE_MATRIX + 2 * row))
            return false;
    }
    return true;
}
