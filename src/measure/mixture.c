/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/mixture.h"

#include <math.h>

#include "measure/normals.h"

enum { MOST_ROUNDS = 500 };

static tdm_normals to_normals(const tdm_mixture *mixture)
{
    return (tdm_normals){.parts = 2,
                         .mean = {mixture->mean[0], mixture->mean[1]},
                         .share = {1 - mixture->share, mixture->share},
                         .sd = mixture->sd,
                         .log_likelihood = mixture->log_likelihood};
}

static tdm_mixture to_mixture(const tdm_normals *normals)
{
    return (tdm_mixture){.mean = {normals->mean[0], normals->mean[1]},
                         .sd = normals->sd,
                         .share = normals->share[1],
                         .log_likelihood = normals->log_likelihood};
}

bool tdm_mixture_start(const double *values, const double *weights, size_t count, double least_sd,
                       tdm_mixture *out)
{
    const tdm_weighted of = {.values = values, .weights = weights, .count = count, .least_sd = least_sd};
    tdm_normals start = {0};
    if (!tdm_normals_start(&of, 2, &start))
        return false;
    *out = to_mixture(&start);
    return true;
}

bool tdm_mixture_fit(const double *values, const double *weights, size_t count, double least_sd,
                     const tdm_mixture *start, tdm_mixture *out)
{
    const tdm_weighted of = {.values = values, .weights = weights, .count = count, .least_sd = least_sd};
    const tdm_normals from = to_normals(start);
    tdm_normals found;
    if (!tdm_normals_climb(&of, MOST_ROUNDS, &from, &found))
        return false;
    *out = to_mixture(&found);
    return true;
}

double tdm_single_log_likelihood(const double *values, const double *weights, size_t count, double least_sd)
{
    const tdm_weighted of = {.values = values, .weights = weights, .count = count, .least_sd = least_sd};
    tdm_normals one;
    return tdm_normals_fit(&of, 1, &one) ? one.log_likelihood : NAN;
}

double tdm_mixture_posterior(const tdm_mixture *mixture, double value)
{
    double both[TDM_NORMALS_MOST];
    const tdm_normals normals = to_normals(mixture);
    tdm_normals_posterior(&normals, value, both);
    return both[1];
}

double tdm_mixture_separation(const tdm_mixture *mixture)
{
    const tdm_normals normals = to_normals(mixture);
    return tdm_normals_separation(&normals, 0);
}
