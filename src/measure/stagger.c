/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/stagger.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_multifit.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double bic_margin = 6; /* strong evidence on Kass and Raftery's 1995 scale */
static const double gentle = 0.2;   /* of its chord, how far a gentle curve departs from it: a choice */
enum { LEAST_FOR_CURVE = 8 };

double tdm_stagger_at(const tdm_stagger_fit *fit, double across)
{
    const double x = across / fit->unit;
    double place = 0;
    for (size_t k = fit->terms; k > 0; k--)
        place = place * x + fit->coefficient[k - 1];
    return place;
}

/* Neighbouring columns show the same locks: of so many, a first-order autoregression of their residuals
 * leaves this share independent. */
static double independent(const double *residual, size_t count)
{
    double product = 0, square = 0;
    for (size_t i = 0; i < count; i++) {
        product += i > 0 ? residual[i] * residual[i - 1] : 0;
        square += residual[i] * residual[i];
    }
    const double correlation = square > 0 ? fmin(fmax(product / square, 0), 0.9) : 0;
    return (1 - correlation) / (1 + correlation);
}

static void keep(const gsl_vector *found, const gsl_matrix *covariance, tdm_stagger_fit *out)
{
    for (size_t k = 0; k < out->terms; k++)
        out->coefficient[k] = gsl_vector_get(found, k);
    out->slope = out->coefficient[1] / out->unit;
    out->slope_u = sqrt(gsl_matrix_get(covariance, 1, 1)) / out->unit;
}

/* By a robust fit (Huber); size: the residuals' sum of absolute values. */
static bool take_out(const double *across, const double *centre, size_t count, double *residual,
                     tdm_stagger_fit *out, double *size)
{
    const size_t terms = out->terms;
    gsl_matrix *matrix = gsl_matrix_alloc(count, terms);
    gsl_matrix *covariance = gsl_matrix_alloc(terms, terms);
    gsl_vector *found = gsl_vector_alloc(terms);
    gsl_multifit_robust_workspace *work = gsl_multifit_robust_alloc(gsl_multifit_robust_huber, count, terms);
    bool good = matrix && covariance && found && work;
    for (size_t i = 0; good && i < count; i++) {
        for (size_t k = 0; k < terms; k++)
            gsl_matrix_set(matrix, i, k, pow(across[i] / out->unit, (double)k));
    }
    if (good) {
        const gsl_vector_const_view at = gsl_vector_const_view_array(centre, count);
        const int status = gsl_multifit_robust(matrix, &at.vector, found, covariance, work);
        good = status == GSL_SUCCESS || status == GSL_EMAXITER;
    }
    if (good)
        keep(found, covariance, out);
    *size = 0;
    for (size_t i = 0; good && i < count; i++) {
        residual[i] = centre[i] - tdm_stagger_at(out, across[i]);
        *size += fabs(residual[i]);
    }
    gsl_multifit_robust_free(work);
    gsl_vector_free(found);
    gsl_matrix_free(covariance);
    gsl_matrix_free(matrix);
    return good && isfinite(*size);
}

/* BIC of Laplace errors, which outliers don't rule, with as many independent columns as the curve leaves. */
static bool curve_is_better(double straight, double curved, double effective)
{
    const double gain = 2 * effective * log(fmax(straight, 1e-9) / fmax(curved, 1e-9));
    return gain > log(effective) + bic_margin;
}

double tdm_stagger_sagitta(const tdm_stagger_fit *fit, double from, double to)
{
    const double span = (to - from) / fit->unit;
    return fit->terms > 2 ? 0.25 * fit->coefficient[2] * span * span : 0;
}

bool tdm_stagger(const double *across, const double *centre, size_t count, double *residual,
                 tdm_stagger_fit *out)
{
    tdm_stagger_fit line = {.terms = 2, .unit = across[count - 1]}, curve = {.terms = 3, .unit = line.unit};
    double straight = 0, curved = 0;
    double *other = malloc(count * sizeof *other);
    const bool good = other && take_out(across, centre, count, residual, &line, &straight);
    *out = line;
    if (good)
        out->slope_u /= sqrt(independent(residual, count));
    if (good && count >= LEAST_FOR_CURVE && take_out(across, centre, count, other, &curve, &curved) &&
        fabs(tdm_stagger_sagitta(&curve, across[0], across[count - 1])) <=
            gentle * (across[count - 1] - across[0]) &&
        curve_is_better(straight, curved, fmax((double)count * independent(other, count), 2))) {
        memcpy(residual, other, count * sizeof *residual);
        curve.slope = line.slope;
        /* What the curve explains is no scatter. */
        curve.slope_u = line.slope_u * curved / straight / sqrt(independent(other, count));
        *out = curve;
    }
    free(other);
    return good;
}
