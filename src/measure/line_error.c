/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/line_error.h"

#include <gsl/gsl_linalg.h>
#include <gsl/gsl_math.h>
#include <math.h>

#include "measure/shape_linear.h"

enum { MOST_TERMS = 4 };
static const double stretch_mm = 8; /* residuals further apart than this are taken as independent */

/* Derivatives of the model: base, step, centre, sigma. */
static void derivatives(const tdm_shape_fit *fit, double along, double out[MOST_TERMS])
{
    const double z = (along - fit->centre[0]) / fit->sigma[0];
    const double density = exp(-0.5 * z * z) / sqrt(2 * M_PI);
    out[0] = 1;
    out[1] = tdm_rise(along, fit->centre[0], fit->sigma[0]);
    out[2] = -fit->step[0] * density / fit->sigma[0];
    out[3] = out[2] * z;
}

/* Inverse of the weighted sum of products of the first `terms` derivatives. */
static bool invert(const tdm_course *course, const tdm_shape_fit *fit, size_t terms,
                   double out[MOST_TERMS * MOST_TERMS])
{
    for (size_t k = 0; k < terms * terms; k++)
        out[k] = 0;
    for (size_t i = 0; i < course->count; i++) {
        double term[MOST_TERMS];
        if (course->weight[i] <= 0)
            continue;
        derivatives(fit, course->along[i], term);
        for (size_t row = 0; row < terms; row++) {
            for (size_t col = 0; col < terms; col++)
                out[row * terms + col] += course->weight[i] * term[row] * term[col];
        }
    }
    gsl_matrix_view matrix = gsl_matrix_view_array(out, terms, terms);
    return gsl_linalg_cholesky_decomp1(&matrix.matrix) == GSL_SUCCESS &&
           gsl_linalg_cholesky_invert(&matrix.matrix) == GSL_SUCCESS;
}

/* The sandwich of least squares with residuals grouped by stretches (Liang and Zeger 1986): the sum over
 * stretches of the square of what each moves one parameter by; with as many degrees of freedom taken off as
 * there are parameters. */
static double grouped_variance(const tdm_course *course, const tdm_shape_fit *fit, const double *inverse,
                               size_t terms, size_t which)
{
    double sum = 0, here = 0, start = -INFINITY, groups = 0;
    for (size_t i = 0; i < course->count; i++) {
        double term[MOST_TERMS], moves = 0;
        if (course->weight[i] <= 0)
            continue;
        if (course->along[i] >= start + stretch_mm) {
            sum += here * here;
            here = 0;
            start = course->along[i];
            groups += 1;
        }
        derivatives(fit, course->along[i], term);
        for (size_t k = 0; k < terms; k++)
            moves += inverse[which * terms + k] * term[k];
        here += moves * course->weight[i] * (course->value[i] - tdm_shape_value(fit, course->along[i]));
    }
    sum += here * here;
    return groups > (double)terms ? sum * groups / (groups - (double)terms) : NAN;
}

double tdm_line_variance(const tdm_course *course, const tdm_shape_fit *fit)
{
    double inverse[MOST_TERMS * MOST_TERMS];
    if (!invert(course, fit, MOST_TERMS, inverse))
        return NAN;
    return grouped_variance(course, fit, inverse, MOST_TERMS, 2);
}

bool tdm_line_height(const tdm_course *course, const tdm_shape_fit *fit, double *height, double *error)
{
    double inverse[MOST_TERMS * MOST_TERMS];
    tdm_shape_fit found = *fit;
    if (!tdm_shape_solve(course, false, 1, &found) || !invert(course, &found, 2, inverse))
        return false;
    *height = found.step[0];
    *error = sqrt(grouped_variance(course, &found, inverse, 2, 1));
    return isfinite(*height) && isfinite(*error);
}
