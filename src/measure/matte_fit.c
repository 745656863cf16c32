/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/matte_fit.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_multifit_nlinear.h>
#include <math.h>

enum { MOST_ITERATIONS = 25 };

static int residuals(const gsl_vector *parameters, void *data, gsl_vector *out)
{
    const tdm_matte_model *model = data;
    tdm_matte_values values;
    tdm_matte_unpack(model, parameters, &values);
    /* Far off, powers and exponentials would overflow. */
    for (size_t i = 0; i < parameters->size; i++) {
        if (!(fabs(gsl_vector_get(parameters, i)) < 1e3))
            return GSL_EDOM;
    }
    tdm_matte_off(model, &values, out);
    return GSL_SUCCESS;
}

static bool run(tdm_matte_model *model, gsl_vector *start, gsl_multifit_nlinear_workspace *work, double *cost)
{
    gsl_multifit_nlinear_fdf system = {
        .f = residuals, .n = tdm_matte_residuals(model), .p = start->size, .params = model};
    int info = 0;
    if (gsl_multifit_nlinear_init(start, &system, work) != GSL_SUCCESS)
        return false;
    const int status =
        gsl_multifit_nlinear_driver(MOST_ITERATIONS, 1e-4, 1e-4, 1e-4, NULL, NULL, &info, work);
    /* Running out of iterations or of progress still leaves the best place so far. */
    if (status != GSL_SUCCESS && status != GSL_EMAXITER && status != GSL_ENOPROG)
        return false;
    const gsl_vector *off = gsl_multifit_nlinear_residual(work);
    return gsl_blas_ddot(off, off, cost) == GSL_SUCCESS && isfinite(*cost) &&
           gsl_vector_memcpy(start, gsl_multifit_nlinear_position(work)) == GSL_SUCCESS;
}

bool tdm_matte_fit(const tdm_matte_model *model, tdm_matte_values *values, double *cost)
{
    tdm_matte_model copy = *model; /* GSL's interface has no const */
    gsl_multifit_nlinear_parameters how = gsl_multifit_nlinear_default_parameters();
    how.solver = gsl_multifit_nlinear_solver_cholesky;
    const size_t count = tdm_matte_parameters(model);
    gsl_multifit_nlinear_workspace *work =
        gsl_multifit_nlinear_alloc(gsl_multifit_nlinear_trust, &how, tdm_matte_residuals(model), count);
    gsl_vector *place = gsl_vector_alloc(count);
    bool good = work && place;
    if (good) {
        tdm_matte_pack(model, values, place);
        good = run(&copy, place, work, cost);
    }
    if (good)
        tdm_matte_unpack(model, place, values);
    gsl_vector_free(place);
    gsl_multifit_nlinear_free(work);
    return good;
}
