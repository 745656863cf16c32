/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/shape_refine.h"

#include <gsl/gsl_math.h>
#include <gsl/gsl_multifit_nlinear.h>
#include <math.h>

#include "measure/shape_linear.h"

enum { MOST_PARAMETERS = 8, MOST_ITERATIONS = 30 };

typedef struct model {
    const tdm_course *course;
    bool trend;
    int steps;
} model;

/* Parameters: base, [slope × length], then a step, centre / length and ln(sigma / length) for each
 * transition. */
static size_t pack(const model *about, const tdm_shape_fit *fit, double *parameters)
{
    const double length = about->course->length;
    size_t count = 0;
    parameters[count++] = fit->base;
    if (about->trend)
        parameters[count++] = fit->slope * length;
    for (int k = 0; k < about->steps; k++) {
        parameters[count++] = fit->step[k];
        parameters[count++] = fit->centre[k] / length;
        parameters[count++] = log(fit->sigma[k] / length);
    }
    return count;
}

static void unpack(const model *about, const gsl_vector *parameters, tdm_shape_fit *fit)
{
    const double length = about->course->length;
    size_t next = 0;
    fit->base = gsl_vector_get(parameters, next++);
    fit->slope = about->trend ? gsl_vector_get(parameters, next++) / length : 0;
    for (int k = 0; k < about->steps; k++) {
        fit->step[k] = gsl_vector_get(parameters, next++);
        fit->centre[k] = gsl_vector_get(parameters, next++) * length;
        fit->sigma[k] = exp(gsl_vector_get(parameters, next++)) * length;
    }
}

static int residuals(const gsl_vector *parameters, void *data, gsl_vector *out)
{
    const model *about = data;
    tdm_shape_fit fit = {.shape = about->steps == 2 ? TDM_SHAPE_BAND : TDM_SHAPE_TRANSITION};
    unpack(about, parameters, &fit);
    for (size_t i = 0; i < about->course->count; i++) {
        const double value = tdm_shape_value(&fit, about->course->along[i]) - about->course->value[i];
        if (!isfinite(value))
            return GSL_EDOM;
        gsl_vector_set(out, i, value);
    }
    return GSL_SUCCESS;
}

static int derivatives(const gsl_vector *parameters, void *data, gsl_matrix *out)
{
    const model *about = data;
    const double length = about->course->length;
    tdm_shape_fit fit = {.shape = TDM_SHAPE_BAND};
    unpack(about, parameters, &fit);
    for (size_t i = 0; i < about->course->count; i++) {
        const double along = about->course->along[i];
        size_t next = 0;
        gsl_matrix_set(out, i, next++, 1);
        if (about->trend)
            gsl_matrix_set(out, i, next++, along / length);
        for (int k = 0; k < about->steps; k++) {
            const double z = (along - fit.centre[k]) / fit.sigma[k];
            const double density = exp(-0.5 * z * z) / sqrt(2 * M_PI);
            gsl_matrix_set(out, i, next++, tdm_rise(along, fit.centre[k], fit.sigma[k]));
            gsl_matrix_set(out, i, next++, -fit.step[k] * density * length / fit.sigma[k]);
            gsl_matrix_set(out, i, next++, -fit.step[k] * density * z);
        }
    }
    return GSL_SUCCESS;
}

static bool sensible(const tdm_shape_fit *fit, int steps, double length)
{
    bool good = isfinite(fit->base) && isfinite(fit->slope);
    for (int k = 0; k < steps; k++) {
        good = good && isfinite(fit->step[k]) && fit->centre[k] > -0.5 * length &&
               fit->centre[k] < 1.5 * length && fit->sigma[k] > 0 && fit->sigma[k] <= length;
    }
    return good;
}

static bool run(const model *about, gsl_multifit_nlinear_workspace *work, const double *start, size_t count,
                tdm_shape_fit *fit)
{
    model copy = *about; /* GSL's interface has no const */
    gsl_multifit_nlinear_fdf system = {
        .f = residuals, .df = derivatives, .n = about->course->count, .p = count, .params = &copy};
    const gsl_vector_const_view from = gsl_vector_const_view_array(start, count);
    const gsl_vector_const_view weights =
        gsl_vector_const_view_array(about->course->weight, about->course->count);
    int info = 0;
    if (gsl_multifit_nlinear_winit(&from.vector, &weights.vector, &system, work) != GSL_SUCCESS)
        return false;
    const int status =
        gsl_multifit_nlinear_driver(MOST_ITERATIONS, 1e-6, 1e-8, 1e-8, NULL, NULL, &info, work);
    /* Running out of iterations or of progress still leaves the best place so far. */
    if (status != GSL_SUCCESS && status != GSL_EMAXITER && status != GSL_ENOPROG)
        return false;
    unpack(about, gsl_multifit_nlinear_position(work), fit);
    return true;
}

bool tdm_shape_refine(const tdm_course *course, bool trend, int steps, tdm_shape_fit *fit)
{
    const model about = {.course = course, .trend = trend, .steps = steps};
    double start[MOST_PARAMETERS];
    const size_t count = pack(&about, fit, start);
    gsl_multifit_nlinear_parameters how = gsl_multifit_nlinear_default_parameters();
    how.solver = gsl_multifit_nlinear_solver_cholesky;
    gsl_multifit_nlinear_workspace *work =
        gsl_multifit_nlinear_alloc(gsl_multifit_nlinear_trust, &how, course->count, count);
    if (!work)
        return false;
    tdm_shape_fit found = *fit;
    bool good = run(&about, work, start, count, &found) && sensible(&found, steps, course->length);
    gsl_multifit_nlinear_free(work);
    if (good) {
        good = tdm_shape_solve(course, trend, steps, &found); /* exact heights and the sum of squares */
        if (good)
            *fit = found;
    }
    return good;
}
