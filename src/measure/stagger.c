/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/stagger.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_multifit.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* By a robust fit (bisquare); size: the residuals' sum of absolute values. */
static bool take_out(const double *across, const double *centre, size_t count, size_t terms, double *residual,
                     double *size)
{
    gsl_matrix *matrix = gsl_matrix_alloc(count, terms);
    gsl_matrix *covariance = gsl_matrix_alloc(terms, terms);
    gsl_vector *found = gsl_vector_alloc(terms);
    gsl_multifit_robust_workspace *work =
        gsl_multifit_robust_alloc(gsl_multifit_robust_bisquare, count, terms);
    bool good = matrix && covariance && found && work;
    for (size_t i = 0; good && i < count; i++) {
        for (size_t k = 0; k < terms; k++)
            gsl_matrix_set(matrix, i, k, pow(across[i] / across[count - 1], (double)k));
    }
    if (good) {
        const gsl_vector_const_view at = gsl_vector_const_view_array(centre, count);
        const int status = gsl_multifit_robust(matrix, &at.vector, found, covariance, work);
        good = status == GSL_SUCCESS || status == GSL_EMAXITER;
    }
    *size = 0;
    for (size_t i = 0; good && i < count; i++) {
        double expected = 0;
        for (size_t k = 0; k < terms; k++)
            expected += gsl_matrix_get(matrix, i, k) * gsl_vector_get(found, k);
        residual[i] = centre[i] - expected;
        *size += fabs(residual[i]);
    }
    gsl_multifit_robust_free(work);
    gsl_vector_free(found);
    gsl_matrix_free(covariance);
    gsl_matrix_free(matrix);
    return good && isfinite(*size);
}

/* The curve is taken only where BIC (of Laplace errors, which outliers don't rule) prefers it. */
bool tdm_stagger(const double *across, const double *centre, size_t count, double *residual, size_t *terms)
{
    double straight = 0, curved = 0;
    double *other = malloc(count * sizeof *other);
    bool good = other && take_out(across, centre, count, 2, residual, &straight);
    *terms = 2;
    if (good && count >= 8 && take_out(across, centre, count, 3, other, &curved)) {
        const double n = (double)count;
        if (2 * n * log(fmax(curved, 1e-9)) + log(n) < 2 * n * log(fmax(straight, 1e-9))) {
            memcpy(residual, other, count * sizeof *residual);
            *terms = 3;
        }
    }
    free(other);
    return good;
}
