/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The spread of a gap's two edges, by least squares of two Gaussian steps on a profile finer than the pixels:
 * a gap that isn't quite level passes through the pixels at every fraction (ISO 12233, slanted edge). */
#include <gsl/gsl_blas.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_multifit_nlinear.h>
#include <gsl/gsl_randist.h>
#include <math.h>

#include "base/fail.h"
#include "measure/quality_edges.h"

enum { MOST_BINS = 512, FEWEST_BINS = 16, FREE = 6, ITERATIONS = 60 };
enum { FROM, TO, BEFORE, AFTER, BETWEEN, LOG_SIGMA };
static const double finest = 0.25;         /* px a bin */
static const double least_contrast = 0.04; /* of linear light: a step that stands out from noise */
const double tdm_gap_widest = 0.5;

typedef struct profile {
    double at[MOST_BINS], light[MOST_BINS], weight[MOST_BINS];
    size_t count;
} profile;

static void gather(const tdm_view *view, const tdm_gap *gap, double reach, double length, profile *out)
{
    const double low = gap->from - reach, high = gap->to + reach;
    const double step = fmax(finest, (high - low) / MOST_BINS);
    double place[MOST_BINS] = {0}, light[MOST_BINS] = {0}, number[MOST_BINS] = {0};
    for (uint32_t row = 0; row < view->rect.height; row++) {
        for (uint32_t column = 0; column < view->rect.width; column++) {
            const double dx = view->rect.x + column + 0.5 - gap->x, dy = view->rect.y + row + 0.5 - gap->y;
            const double across = dx * gap->normal[0] + dy * gap->normal[1];
            const double along = dy * gap->normal[0] - dx * gap->normal[1];
            const double bin = (across - low) / step;
            if (!(fabs(along) <= length / 2 && bin >= 0 && bin < MOST_BINS && across < high))
                continue;
            place[(size_t)bin] += across;
            light[(size_t)bin] += (double)view->light[(size_t)row * view->rect.width + column];
            number[(size_t)bin]++;
        }
    }
    out->count = 0;
    for (size_t i = 0; i < MOST_BINS; i++) {
        if (number[i] == 0)
            continue;
        out->at[out->count] = place[i] / number[i];
        out->light[out->count] = light[i] / number[i];
        out->weight[out->count++] = number[i];
    }
}

static int residuals(const gsl_vector *free, void *data, gsl_vector *out)
{
    const profile *seen = data;
    const double sigma = exp(gsl_vector_get(free, LOG_SIGMA));
    const double between = gsl_vector_get(free, BETWEEN);
    for (size_t i = 0; i < seen->count; i++) {
        const double first = gsl_cdf_ugaussian_Q((seen->at[i] - gsl_vector_get(free, FROM)) / sigma);
        const double second = gsl_cdf_ugaussian_P((seen->at[i] - gsl_vector_get(free, TO)) / sigma);
        const double model = between + (gsl_vector_get(free, BEFORE) - between) * first +
                             (gsl_vector_get(free, AFTER) - between) * second;
        gsl_vector_set(out, i, model - seen->light[i]);
    }
    return GSL_SUCCESS;
}

static int slopes(const gsl_vector *free, void *data, gsl_matrix *out)
{
    const profile *seen = data;
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
    return GSL_SUCCESS;
}

/* Mean light of bins [from, to) of the profile. */
static double mean(const profile *seen, size_t from, size_t to)
{
    double sum = 0, number = 0;
    for (size_t i = from; i < to; i++) {
        sum += seen->weight[i] * seen->light[i];
        number += seen->weight[i];
    }
    return sum / number;
}

static void guess(const profile *seen, const tdm_gap *gap, gsl_vector *free)
{
    const size_t end = seen->count / 8 + 1, middle = seen->count / 2;
    gsl_vector_set(free, FROM, gap->from);
    gsl_vector_set(free, TO, gap->to);
    gsl_vector_set(free, BEFORE, mean(seen, 0, end));
    gsl_vector_set(free, AFTER, mean(seen, seen->count - end, seen->count));
    gsl_vector_set(free, BETWEEN, mean(seen, middle - 1, middle + 1));
    gsl_vector_set(free, LOG_SIGMA, log(fmax(0.5, 0.1 * (gap->to - gap->from))));
}

static void take(const gsl_vector *free, const gsl_matrix *covariance, double variance, double reach,
                 tdm_gap *gap)
{
    const double width = gap->to - gap->from;
    const double from = gsl_vector_get(free, FROM), to = gsl_vector_get(free, TO);
    const double sigma = exp(gsl_vector_get(free, LOG_SIGMA));
    gap->before = gsl_vector_get(free, BEFORE);
    gap->after = gsl_vector_get(free, AFTER);
    gap->between = gsl_vector_get(free, BETWEEN);
    const double contrast = fmax(fabs(gap->before - gap->between), fabs(gap->after - gap->between));
    const bool in_place = fabs(from - gap->from) < width / 2 && fabs(to - gap->to) < width / 2;
    gap->u_sigma = sigma * sqrt(variance * gsl_matrix_get(covariance, LOG_SIGMA, LOG_SIGMA));
    gap->sigma = sigma;
    gap->fitted = in_place && contrast >= least_contrast && isfinite(gap->u_sigma) && sigma < reach / 2 &&
                  gap->u_sigma < sigma / 4 && sigma < tdm_gap_widest * (to - from);
    gap->from = from;
    gap->to = to;
}

static void solve(profile *seen, double reach, gsl_multifit_nlinear_workspace *work, gsl_vector *free,
                  gsl_matrix *covariance, tdm_gap *gap)
{
    gsl_multifit_nlinear_fdf problem = {
        .f = residuals, .df = slopes, .n = seen->count, .p = FREE, .params = seen};
    const gsl_vector_const_view weights = gsl_vector_const_view_array(seen->weight, seen->count);
    int info;
    guess(seen, gap, free);
    if (gsl_multifit_nlinear_winit(free, &weights.vector, &problem, work) != GSL_SUCCESS ||
        gsl_multifit_nlinear_driver(ITERATIONS, 1e-6, 1e-6, 0, NULL, NULL, &info, work) != GSL_SUCCESS)
        return;
    double squares;
    const gsl_vector *left = gsl_multifit_nlinear_residual(work);
    (void)gsl_blas_ddot(left, left, &squares);
    if (gsl_multifit_nlinear_covar(gsl_multifit_nlinear_jac(work), 0, covariance) != GSL_SUCCESS)
        return;
    take(gsl_multifit_nlinear_position(work), covariance, squares / (double)(seen->count - FREE), reach, gap);
}

tdm_code tdm_gap_fit(const tdm_view *view, double reach, double length, tdm_gap *gap, tdm_error *error)
{
    profile seen;
    gap->fitted = false;
    if (!view->light)
        return TDM_OK;
    gather(view, gap, reach, length, &seen);
    if (seen.count < FEWEST_BINS)
        return TDM_OK;
    const gsl_multifit_nlinear_parameters parameters = gsl_multifit_nlinear_default_parameters();
    gsl_multifit_nlinear_workspace *work =
        gsl_multifit_nlinear_alloc(gsl_multifit_nlinear_trust, &parameters, seen.count, FREE);
    gsl_vector *free = gsl_vector_alloc(FREE);
    gsl_matrix *covariance = gsl_matrix_alloc(FREE, FREE);
    const bool room = work && free && covariance;
    if (room)
        solve(&seen, reach, work, free, covariance, gap);
    gsl_multifit_nlinear_free(work);
    gsl_vector_free(free);
    gsl_matrix_free(covariance);
    return room ? TDM_OK : tdm_fail_memory(error, NULL);
}
