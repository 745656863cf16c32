/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/shape_linear.h"

#include <gsl/gsl_linalg.h>
#include <gsl/gsl_math.h>
#include <math.h>

enum { MOST_TERMS = 4 };

double tdm_rise(double along, double centre, double sigma)
{
    return 0.5 * erfc((centre - along) / (sigma * M_SQRT2));
}

static int fill_terms(const tdm_course *course, size_t i, bool trend, int steps, const tdm_shape_fit *fit,
                      double terms[MOST_TERMS])
{
    int count = 0;
    terms[count++] = 1;
    if (trend)
        terms[count++] =
            course->along[i] / course->length; /* scaled, so that the system is well conditioned */
    for (int k = 0; k < steps; k++)
        terms[count++] = tdm_rise(course->along[i], fit->centre[k], fit->sigma[k]);
    return count;
}

/* Normal equations are safe here: at most four terms of similar size, and near-singular systems are refused.
 */
static bool solve(double normal[MOST_TERMS * MOST_TERMS], double right[MOST_TERMS], int count)
{
    gsl_matrix_view matrix = gsl_matrix_view_array_with_tda(normal, (size_t)count, (size_t)count, MOST_TERMS);
    gsl_vector_view vector = gsl_vector_view_array(right, (size_t)count);
    for (int k = 0; k < count; k++) {
        if (!(normal[k * MOST_TERMS + k] > 1e-9))
            return false;
        normal[k * MOST_TERMS + k] *= 1 + 1e-10;
    }
    return gsl_linalg_cholesky_decomp1(&matrix.matrix) == 0 &&
           gsl_linalg_cholesky_svx(&matrix.matrix, &vector.vector) == 0;
}

bool tdm_shape_solve(const tdm_course *course, bool trend, int steps, tdm_shape_fit *fit)
{
    double normal[MOST_TERMS * MOST_TERMS] = {0}, right[MOST_TERMS] = {0}, terms[MOST_TERMS];
    double square = 0;
    int count = 0;
    for (size_t i = 0; i < course->count; i++) {
        const double weight = course->weight[i];
        if (weight <= 0)
            continue;
        count = fill_terms(course, i, trend, steps, fit, terms);
        for (int row = 0; row < count; row++) {
            for (int col = 0; col < count; col++)
                normal[row * MOST_TERMS + col] += weight * terms[row] * terms[col];
            right[row] += weight * terms[row] * course->value[i];
        }
        square += weight * course->value[i] * course->value[i];
    }
    double found[MOST_TERMS];
    for (int k = 0; k < count; k++)
        found[k] = right[k];
    if (count == 0 || !solve(normal, found, count))
        return false;
    fit->rss = square;
    for (int k = 0; k < count; k++)
        fit->rss -= found[k] * right[k];
    if (fit->rss < 0)
        fit->rss = 0;
    int next = 0;
    fit->base = found[next++];
    fit->slope = trend ? found[next++] / course->length : 0;
    for (int k = 0; k < 2; k++)
        fit->step[k] = k < steps ? found[next++] : 0;
    return isfinite(fit->rss);
}
