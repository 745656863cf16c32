/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The spread of a gap's two edges, by least squares of two Gaussian steps on its profile. */
#include <gsl/gsl_blas.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_multifit_nlinear.h>
#include <gsl/gsl_randist.h>
#include <math.h>

#include "base/fail.h"
#include "measure/quality_gap_profile.h"

enum { FEWEST_BINS = 16, FREE = 6, ITERATIONS = 60 };
enum { FROM, TO, BEFORE, AFTER, BETWEEN, LOG_SIGMA };
static const double least_contrast = 0.04;     /* of linear light: a step that stands out from noise */
static const double finest_sigma = 0.28867513; /* px: a pixel's own width, 1 / sqrt(12) */
static const double too_fine = 0.6;            /* px: below, it may be that pixels don't show sigma */
static const double width_off = 0.35;          /* by how much of its width a gap may differ from the usual */
const double tdm_gap_widest = 0.5;

static int residuals(const gsl_vector *free, void *data, gsl_vector *out)
{
    const tdm_gap_profile *seen = data;
    const double sigma = exp(gsl_vector_get(free, LOG_SIGMA));
    const double between = gsl_vector_get(free, BETWEEN);
    for (size_t i = 0; i < seen->count; i++) {
        const double first = gsl_cdf_ugaussian_Q((seen->at[i] - gsl_vector_get(free, FROM)) / sigma);
        const double second = gsl_cdf_ugaussian_P((seen->at[i] - gsl_vector_get(free, TO)) / sigma);
        const double model = between + (gsl_vector_get(free, BEFORE) - between) * first +
                             (gsl_vector_get(free, AFTER) - between) * second;
        gsl_vector_set(out, i, model - seen->light[i]);
    }
    /* A wall at what no edge in pixels is sharper than, so that the fit stands on firm ground there. */
    gsl_vector_set(out, seen->count, fmin(log(sigma / finest_sigma), 0));
    return GSL_SUCCESS;
}

static int slopes(const gsl_vector *free, void *data, gsl_matrix *out)
{
    const tdm_gap_profile *seen = data;
    const double sigma = exp(gsl_vector_get(free, LOG_SIGMA));
    const double down = gsl_vector_get(free, BEFORE) - gsl_vector_get(free, BETWEEN);
    const double up = gsl_vector_get(free, AFTER) - gsl_vector_get(free, BETWEEN);
    for (size_t i = 0; i < seen->count; i++) {
        const double a = (seen->at[i] - gsl_vector_get(free, FROM)) / sigma;
        const double b = (seen->at[i] - gsl_vector_get(free, TO)) / sigma;
        const double at_from = down * gsl_ran_ugaussian_pdf(a), at_to = -up * gsl_ran_ugaussian_pdf(b);
        const double first = gsl_cdf_ugaussian_Q(a), second = gsl_cdf_ugaussian_P(b);
        gsl_matrix_set(out, i, FROM, at_from / sigma);
        gsl_matrix_set(out, i, TO, at_to / sigma);
        gsl_matrix_set(out, i, BEFORE, first);
        gsl_matrix_set(out, i, AFTER, second);
        gsl_matrix_set(out, i, BETWEEN, 1 - first - second);
        gsl_matrix_set(out, i, LOG_SIGMA, a * at_from + b * at_to);
    }
    for (size_t k = 0; k < FREE; k++)
        gsl_matrix_set(out, seen->count, k, k == LOG_SIGMA && sigma < finest_sigma ? 1 : 0);
    return GSL_SUCCESS;
}

typedef struct tools {
    gsl_multifit_nlinear_workspace *work;
    gsl_matrix *covariance;
} tools;

/* What a fit came to. */
typedef struct outcome {
    double free[FREE], u_log, squares;
    double place; /* where it began */
    bool done;
} outcome;

/* Its middle becomes the gap's place. */
static void settle(tdm_gap *gap, double from, double to)
{
    const double middle = (from + to) / 2;
    gap->x += middle * gap->normal[0];
    gap->y += middle * gap->normal[1];
    gap->from = from - middle;
    gap->to = to - middle;
}

static void take(const outcome *it, double reach, tdm_gap *gap)
{
    const double width = gap->to - gap->from, from = it->free[FROM], to = it->free[TO];
    gap->before = it->free[BEFORE];
    gap->after = it->free[AFTER];
    gap->between = it->free[BETWEEN];
    gap->sigma = fmax(exp(it->free[LOG_SIGMA]), finest_sigma);
    gap->u_sigma = gap->sigma * it->u_log;
    const double contrast = fmax(fabs(gap->before - gap->between), fabs(gap->after - gap->between));
    const bool in_place = fabs((from + to) / 2 - it->place) < width / 2 && contrast >= least_contrast;
    const bool as_wide = fabs(to - from - width) < width_off * width;
    if (!(gap->u_sigma < gap->sigma / 4) && gap->sigma < too_fine)
        gap->sigma = gap->u_sigma = finest_sigma;
    const bool told = gap->u_sigma < gap->sigma / 4 || gap->sigma <= finest_sigma;
    gap->fitted =
        in_place && as_wide && told && gap->sigma < reach / 2 && gap->sigma < tdm_gap_widest * (to - from);
    gap->run_together = in_place && !gap->fitted && gap->sigma >= tdm_gap_widest * width;
    if (gap->fitted)
        settle(gap, from, to);
}

/* Begins at a place with a sigma and the gap's light. */
static outcome run(tdm_gap_profile *seen, const double start[FREE], const tools *with)
{
    outcome out = {.place = (start[FROM] + start[TO]) / 2, .squares = INFINITY};
    gsl_multifit_nlinear_fdf problem = {
        .f = residuals, .df = slopes, .n = seen->count + 1, .p = FREE, .params = seen};
    const gsl_vector_const_view weights = gsl_vector_const_view_array(seen->weight, seen->count + 1);
    const gsl_vector_const_view first = gsl_vector_const_view_array(start, FREE);
    int info;
    if (gsl_multifit_nlinear_winit(&first.vector, &weights.vector, &problem, with->work) != GSL_SUCCESS)
        return out;
    const int status = gsl_multifit_nlinear_driver(ITERATIONS, 1e-6, 1e-6, 0, NULL, NULL, &info, with->work);
    const gsl_vector *left = gsl_multifit_nlinear_residual(with->work);
    const gsl_vector *position = gsl_multifit_nlinear_position(with->work);
    (void)gsl_blas_ddot(left, left, &out.squares);
    out.done =
        (status == GSL_SUCCESS || status == GSL_ENOPROG) && isfinite(out.squares) &&
        gsl_multifit_nlinear_covar(gsl_multifit_nlinear_jac(with->work), 0, with->covariance) == GSL_SUCCESS;
    out.u_log = sqrt(out.squares / (double)(seen->count - FREE) *
                     gsl_matrix_get(with->covariance, LOG_SIGMA, LOG_SIGMA));
    for (size_t k = 0; k < FREE; k++)
        out.free[k] = gsl_vector_get(position, k);
    return out;
}

/* A blurred gap isn't found by even pieces, and narrow ones of a lighter gap look alike: the best of a sharp
 * one where it was found, and blurred ones there and where it should be. */
static void solve(tdm_gap_profile *seen, double reach, const tools *with, tdm_gap *gap)
{
    double level[3];
    const double width = gap->to - gap->from, found = tdm_gap_find(seen, gap, reach, level);
    outcome best = {.squares = INFINITY};
    for (int i = 0; isfinite(found) && i < 3; i++) {
        const double place = i < 2 ? found : 0, dark = i > 0 ? 0 : level[1];
        const double start[FREE] = {
            [FROM] = gap->from + place, [TO] = gap->to + place,
            [BEFORE] = level[0],        [AFTER] = level[2],
            [BETWEEN] = dark,           [LOG_SIGMA] = log(fmax(0.5, (i > 0 ? 0.5 : 0.1) * width))};
        const outcome it = run(seen, start, with);
        if (it.done && it.squares < 0.999 * best.squares)
            best = it;
    }
    if (best.done)
        take(&best, reach, gap);
}

tdm_code tdm_gap_fit(const tdm_view *view, double reach, double length, tdm_gap *gap, tdm_error *error)
{
    tdm_gap_profile seen;
    gap->fitted = gap->run_together = false;
    if (!view->light)
        return TDM_OK;
    tdm_gap_gather(view, gap, reach, length, &seen);
    if (seen.count < FEWEST_BINS)
        return TDM_OK;
    const gsl_multifit_nlinear_parameters parameters = gsl_multifit_nlinear_default_parameters();
    const tools with = {
        gsl_multifit_nlinear_alloc(gsl_multifit_nlinear_trust, &parameters, seen.count + 1, FREE),
        gsl_matrix_alloc(FREE, FREE)};
    const bool room = with.work && with.covariance;
    if (room)
        solve(&seen, reach, &with, gap);
    gsl_multifit_nlinear_free(with.work);
    gsl_matrix_free(with.covariance);
    return room ? TDM_OK : tdm_fail_memory(error, NULL);
}
