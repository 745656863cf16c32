/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A plane of light through a few references. */
#include <gsl/gsl_sort.h>
#include <math.h>
#include <string.h>

#include "colour/greys_parts.h"
#include "colour/matrix.h"

static const double tuning = 1.345; /* Huber 1981: 95 % efficiency on normal errors */
static const double most_stops = 1; /* between two references, from which on a plane is a bold guess */

/* A few references are met by a plane however the light runs: what it leaves then is held to be a quarter of
 * the range that it found (choice). */
static const size_t enough = 5;
static const double bent = 0.25;

const double tdm_grey_noise = 0.03;
const double tdm_slope_prior = 0.5;
const double tdm_clearly_uneven = 11.83; /* three sigma with two degrees of freedom */

/* rows' products and the priors: the inverse is the terms' variance. */
static void precision_of(const tdm_plane_row *rows, size_t count, const double prior[3], double precision[9])
{
    memset(precision, 0, 9 * sizeof *precision);
    for (int a = 0; a < 3; a++)
        precision[4 * a] = 1 / (prior[a] * prior[a]);
    for (size_t i = 0; i < count; i++) {
        const double weight = rows[i].weight / (tdm_grey_noise * tdm_grey_noise);
        for (int a = 0; a < 3; a++) {
            for (int b = 0; b < 3; b++)
                precision[3 * a + b] += weight * rows[i].basis[a] * rows[i].basis[b];
        }
    }
}

/* Slopes against the 2x2 of their variance. */
static double significance(const double terms[3], const double variance[9])
{
    const double xx = variance[4], xy = variance[5], yy = variance[8];
    const double sx = terms[1], sy = terms[2];
    return (sx * sx * yy - 2 * sx * sy * xy + sy * sy * xx) / (xx * yy - xy * xy);
}

void tdm_plane_fit(const tdm_plane_row *rows, size_t count, const double prior[3], tdm_plane *out)
{
    double precision[9];
    *out = (tdm_plane){0};
    precision_of(rows, count, prior, precision);
    /* Never singular: the priors stand on the diagonal. */
    if (!tdm_matrix_invert(precision, out->variance))
        return;
    for (int c = 0; c < 3; c++) {
        double right[3] = {0};
        for (size_t i = 0; i < count; i++) {
            for (int a = 0; a < 3; a++)
                right[a] +=
                    rows[i].weight / (tdm_grey_noise * tdm_grey_noise) * rows[i].basis[a] * rows[i].y[c];
        }
        tdm_matrix_apply(out->variance, right, out->terms[c]);
        out->significance = fmax(out->significance, significance(out->terms[c], out->variance));
    }
}

void tdm_huber_weights(const double *misfits, size_t count, double *scratch, double *weights)
{
    memcpy(scratch, misfits, count * sizeof *scratch);
    gsl_sort(scratch, 1, count);
    const double limit = tuning * fmax(1.4826 * scratch[count / 2], tdm_grey_noise);
    for (size_t i = 0; i < count; i++)
        weights[i] = misfits[i] > limit ? limit / misfits[i] : 1;
}

tdm_light tdm_light_of_plane(const tdm_plane *plane, uint32_t width, uint32_t height, const double at[2],
                             double misfit)
{
    tdm_light light = {.degree = 1, .width = width, .height = height, .misfit = misfit};
    for (int c = 0; c < 3; c++) {
        light.stops[c][1] = plane->terms[c][1];
        light.stops[c][2] = plane->terms[c][2];
    }
    tdm_light_centre(&light, at[0], at[1]);
    return light;
}

/* The widest difference of light between two references, in stops. */
static double range_of(const tdm_light *light, const tdm_grey_measured *greys, size_t count)
{
    double widest = 0;
    for (int c = 0; c < 3; c++) {
        double low = INFINITY, high = -INFINITY, factors[3];
        for (size_t i = 0; i < count; i++) {
            tdm_light_at(light, greys[i].middle[0], greys[i].middle[1], factors);
            low = fmin(low, -log2(factors[c]));
            high = fmax(high, -log2(factors[c]));
        }
        widest = fmax(widest, high - low);
    }
    return widest;
}

double tdm_plane_misfit(const tdm_light *light, const tdm_grey_measured *greys, size_t count, double rms)
{
    const double seen = fmax(rms, tdm_grey_noise);
    return count < enough ? hypot(seen, bent * range_of(light, greys, count)) : seen;
}

tdm_code tdm_warn_uneven(const tdm_light *light, const tdm_grey_measured *greys, size_t count,
                         tdm_warnings *warnings, tdm_error *error)
{
    const double widest = range_of(light, greys, count);
    if (widest <= most_stops)
        return TDM_OK;
    const long tenths = lround(10 * widest);
    return tdm_warn(warnings, error, "light-uneven", NULL,
                    "the light differs by %ld.%ld stops between the grey references; it is corrected, but "
                    "evenly falling light is a guess over so much: move the lamps or the head and retake",
                    tenths / 10, tenths % 10);
}
