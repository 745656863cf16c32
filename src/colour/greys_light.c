/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Uneven light from greys beside a target. The target itself is one more reference, at which the light is
 * known to be 1. */
#include <math.h>
#include <stdlib.h>

#include "base/fail.h"
#include "colour/greys_parts.h"

enum { ROUNDS = 20 };
/* Stops: what all greys together may be off by in their stated L* or their tilt against the target. */
static const double common_u = 0.1;

/* Each grey's place and light against the target's. */
static void fill_rows(const tdm_grey_measured *greys, size_t count, const tdm_calibration *calibration,
                      double half, const double at[2], tdm_plane_row *rows)
{
    for (size_t i = 0; i < count; i++) {
        rows[i] = (tdm_plane_row){
            .basis = {1, (greys[i].middle[0] - at[0]) / half, (greys[i].middle[1] - at[1]) / half},
            .weight = 1};
        for (int c = 0; c < 3; c++)
            rows[i].y[c] = log2(tdm_calibration_channel(calibration, c, greys[i].rgb[c]) / greys[i].wanted);
    }
}

static double miss_of(const tdm_plane_row *row, const tdm_plane *plane)
{
    double square = 0;
    for (int c = 0; c < 3; c++) {
        const double *terms = plane->terms[c], *basis = row->basis;
        const double miss = row->y[c] - basis[0] * terms[0] - basis[1] * terms[1] - basis[2] * terms[2];
        square += miss * miss / 3;
    }
    return sqrt(square);
}

/* Root mean square misfit in stops. misfits: room for 3 * count. */
static double fit_robustly(tdm_plane_row *rows, size_t count, double *misfits, tdm_plane *plane)
{
    const double prior[3] = {common_u, tdm_slope_prior, tdm_slope_prior};
    double *weights = misfits + 2 * count, square = 0;
    for (int round = 0; round < ROUNDS; round++) {
        tdm_plane_fit(rows, count, prior, plane);
        for (size_t i = 0; i < count; i++)
            misfits[i] = miss_of(&rows[i], plane);
        tdm_huber_weights(misfits, count, misfits + count, weights);
        for (size_t i = 0; i < count; i++)
            rows[i].weight = weights[i];
    }
    for (size_t i = 0; i < count; i++)
        square += misfits[i] * misfits[i];
    return sqrt(square / (double)count);
}

tdm_code tdm_greys_light(const tdm_device *device, const tdm_pixels *pixels,
                         const tdm_calibration *calibration, const tdm_grey *greys, size_t count,
                         uint32_t width, uint32_t height, const double at[2], const char *file,
                         tdm_warnings *warnings, tdm_light *light, bool *used, tdm_error *error)
{
    *used = false;
    if (count < 2)
        return TDM_OK;
    tdm_grey_measured *measured = calloc(count, sizeof *measured);
    tdm_plane_row *rows = calloc(count, sizeof *rows);
    double *misfits = calloc(3 * count, sizeof *misfits);
    tdm_code code = measured && rows && misfits ? TDM_OK : tdm_fail_memory(error, file);
    if (code == TDM_OK)
        code = tdm_greys_measure(device, pixels, greys, count, file, measured, error);
    if (code == TDM_OK) {
        tdm_plane plane;
        fill_rows(measured, count, calibration, (width > height ? width : height) / 2.0, at, rows);
        const double misfit = fit_robustly(rows, count, misfits, &plane);
        if (plane.significance >= tdm_clearly_uneven) {
            tdm_light found = tdm_light_of_plane(&plane, width, height, at, misfit);
            found.misfit = tdm_plane_misfit(&found, measured, count, misfit);
            code = tdm_warn_uneven(&found, measured, count, warnings, error);
            *light = found;
            *used = code == TDM_OK;
        }
    }
    free(misfits);
    free(rows);
    free(measured);
    return code;
}
