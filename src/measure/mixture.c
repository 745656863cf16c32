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

bool tdm_mixture_choose(const tdm_weighted *of, const tdm_normals_limits *limits, tdm_mixture *out)
{
    tdm_normals_limits two = *limits;
    tdm_normals found;
    two.most = 2;
    if (!tdm_normals_choose(of, &two, &found) || found.parts != 2)
        return false;
    *out = to_mixture(&found);
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

double tdm_mixture_separation(const tdm_mixture *mixture)
{
    const tdm_normals normals = to_normals(mixture);
    return tdm_normals_separation(&normals, 0);
}
