/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/normals.h"

#include <gsl/gsl_math.h>
#include <math.h>

#include "measure/normals_start.h"

enum { MOST_ROUNDS = 500, TRIAL_ROUNDS = 30 };
static const double grown = 1e-10;       /* of the likelihood: less a round is standstill */
static const double least_weight = 1e-6; /* of all: a part with less has died out */

/* Logs of each part's share over its height, which don't change from value to value. */
static void part_heights(const tdm_normals *normals, double heights[TDM_NORMALS_MOST])
{
    for (size_t k = 0; k < normals->parts; k++)
        heights[k] = log(normals->share[k]) - log(normals->sd) - 0.5 * log(2 * M_PI);
}

/* Fills the posterior and returns the log of the density, without overflow far from every part. */
static double densities(const tdm_normals *normals, const double heights[TDM_NORMALS_MOST], double value,
                        double out[TDM_NORMALS_MOST])
{
    double highest = -INFINITY, sum = 0;
    for (size_t k = 0; k < normals->parts; k++) {
        const double z = (value - normals->mean[k]) / normals->sd;
        out[k] = heights[k] - 0.5 * z * z;
        highest = fmax(highest, out[k]);
    }
    for (size_t k = 0; k < normals->parts; k++) {
        out[k] = exp(out[k] - highest);
        sum += out[k];
    }
    for (size_t k = 0; k < normals->parts; k++)
        out[k] /= sum;
    return highest + log(sum);
}

void tdm_normals_posterior(const tdm_normals *normals, double value, double out[TDM_NORMALS_MOST])
{
    double heights[TDM_NORMALS_MOST];
    part_heights(normals, heights);
    (void)densities(normals, heights, value, out);
}

double tdm_normals_separation(const tdm_normals *normals, size_t lower)
{
    return fabs(normals->mean[lower + 1] - normals->mean[lower]) / normals->sd;
}

bool tdm_normals_settle(const tdm_moments *sums, size_t parts, double least_sd, tdm_normals *out)
{
    double total = 0, square = 0;
    for (size_t k = 0; k < parts; k++)
        total += sums[k].weight;
    for (size_t k = 0; k < parts; k++) {
        if (!(sums[k].weight > least_weight * total))
            return false;
        out->mean[k] = sums[k].first / sums[k].weight;
        out->share[k] = sums[k].weight / total;
        square += sums[k].second - sums[k].first * out->mean[k];
    }
    out->parts = parts;
    out->sd = fmax(sqrt(fmax(square / total, 0)), least_sd);
    return true;
}

static bool one_round(const tdm_weighted *of, tdm_normals *normals)
{
    tdm_moments sums[TDM_NORMALS_MOST] = {{0, 0, 0}};
    double likelihood = 0, heights[TDM_NORMALS_MOST], share[TDM_NORMALS_MOST];
    part_heights(normals, heights);
    for (size_t i = 0; i < of->count; i++) {
        if (!(of->weights[i] > 0))
            continue;
        likelihood += of->weights[i] * densities(normals, heights, of->values[i], share);
        for (size_t k = 0; k < normals->parts; k++)
            tdm_moments_add(sums + k, of->weights[i] * share[k], of->values[i]);
    }
    normals->log_likelihood = likelihood;
    return tdm_normals_settle(sums, normals->parts, of->least_sd, normals);
}

/* Parts may cross where they overlap. */
static void sort(tdm_normals *normals)
{
    for (size_t i = 1; i < normals->parts; i++) {
        for (size_t k = i; k > 0 && normals->mean[k - 1] > normals->mean[k]; k--) {
            const double mean = normals->mean[k], share = normals->share[k];
            normals->mean[k] = normals->mean[k - 1];
            normals->share[k] = normals->share[k - 1];
            normals->mean[k - 1] = mean;
            normals->share[k - 1] = share;
        }
    }
}

bool tdm_normals_climb(const tdm_weighted *of, size_t rounds, const tdm_normals *start, tdm_normals *out)
{
    tdm_normals normals = *start;
    double before = -INFINITY;
    for (size_t round = 0; round < rounds; round++) {
        if (!one_round(of, &normals))
            return false;
        if (fabs(normals.log_likelihood - before) <= grown * fabs(normals.log_likelihood))
            break;
        before = normals.log_likelihood;
    }
    sort(&normals);
    *out = normals;
    return isfinite(normals.log_likelihood);
}

bool tdm_normals_fit(const tdm_weighted *of, size_t parts, tdm_normals *out)
{
    tdm_normals starts[TDM_NORMALS_STARTS], best = {.log_likelihood = -INFINITY};
    const size_t count = tdm_normals_starts(of, parts, starts);
    for (size_t i = 0; i < count; i++) {
        tdm_normals tried;
        if (tdm_normals_climb(of, TRIAL_ROUNDS, starts + i, &tried) &&
            tried.log_likelihood > best.log_likelihood)
            best = tried;
    }
    return best.parts == parts && tdm_normals_climb(of, MOST_ROUNDS, &best, out);
}

double tdm_normals_bic(const tdm_normals *normals, const tdm_weighted *of, double effective)
{
    double total = 0;
    for (size_t i = 0; i < of->count; i++)
        total += fmax(of->weights[i], 0);
    const double free_numbers = 2 * (double)normals->parts; /* means, all shares but one, the sd */
    return free_numbers * log(effective) - 2 * normals->log_likelihood * effective / total;
}

static bool within(const tdm_normals *normals, const tdm_normals_limits *limits)
{
    for (size_t k = 0; k < normals->parts; k++) {
        if (normals->share[k] < limits->share)
            return false;
        if (k > 0 && tdm_normals_separation(normals, k - 1) < limits->separation)
            return false;
    }
    return true;
}

bool tdm_normals_choose(const tdm_weighted *of, const tdm_normals_limits *limits, tdm_normals *out)
{
    tdm_normals best;
    if (!tdm_normals_fit(of, 1, &best))
        return false;
    double least = tdm_normals_bic(&best, of, limits->effective);
    for (size_t parts = 2; parts <= limits->most; parts++) {
        tdm_normals more;
        if (!tdm_normals_fit(of, parts, &more) || !within(&more, limits))
            continue;
        const double bic = tdm_normals_bic(&more, of, limits->effective);
        if (least - bic > limits->margin) {
            best = more;
            least = bic;
        }
    }
    *out = best;
    return true;
}
