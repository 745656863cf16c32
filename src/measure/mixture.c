/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/mixture.h"

#include <gsl/gsl_math.h>
#include <math.h>

enum { MOST_ROUNDS = 500 };

static double log_normal(double value, double mean, double sd)
{
    const double z = (value - mean) / sd;
    return -0.5 * z * z - log(sd) - 0.5 * log(2 * M_PI);
}

/* Log of the sum of two exponentials without overflow. */
static double log_sum(double a, double b)
{
    const double high = fmax(a, b);
    return high + log(exp(a - high) + exp(b - high));
}

/* What doesn't change from value to value: logs of each part's share over its height. */
typedef struct heights {
    double low, high;
} heights;

static heights part_heights(const tdm_mixture *mixture)
{
    const double height = log(mixture->sd) + 0.5 * log(2 * M_PI);
    return (heights){log(1 - mixture->share) - height, log(mixture->share) - height};
}

static void log_parts(const tdm_mixture *mixture, const heights *of, double value, double *low, double *high)
{
    const double below = (value - mixture->mean[0]) / mixture->sd,
                 above = (value - mixture->mean[1]) / mixture->sd;
    *low = of->low - 0.5 * below * below;
    *high = of->high - 0.5 * above * above;
}

double tdm_mixture_posterior(const tdm_mixture *mixture, double value)
{
    double low, high;
    const heights of = part_heights(mixture);
    log_parts(mixture, &of, value, &low, &high);
    return exp(high - log_sum(low, high));
}

double tdm_mixture_separation(const tdm_mixture *mixture)
{
    return fabs(mixture->mean[1] - mixture->mean[0]) / mixture->sd;
}

/* Sums for one part: weight, first and second moment. */
typedef struct moments {
    double weight, first, second;
} moments;

static void add(moments *sums, double weight, double value)
{
    sums->weight += weight;
    sums->first += weight * value;
    sums->second += weight * value * value;
}

static bool settle(const moments parts[2], double least_sd, tdm_mixture *out)
{
    const double total = parts[0].weight + parts[1].weight;
    double square = 0;
    for (int k = 0; k < 2; k++) {
        if (parts[k].weight <= 1e-6 * total)
            return false;
        out->mean[k] = parts[k].first / parts[k].weight;
        square += parts[k].second - parts[k].weight * out->mean[k] * out->mean[k];
    }
    out->sd = fmax(sqrt(fmax(square / total, 0)), least_sd);
    out->share = parts[1].weight / total;
    return true;
}

static bool one_round(const double *values, const double *weights, size_t count, double least_sd,
                      tdm_mixture *mixture)
{
    moments parts[2] = {{0, 0, 0}, {0, 0, 0}};
    double likelihood = 0;
    const heights of = part_heights(mixture);
    for (size_t i = 0; i < count; i++) {
        if (weights[i] <= 0)
            continue;
        double low, high;
        log_parts(mixture, &of, values[i], &low, &high);
        const double both = log_sum(low, high), share = exp(high - both);
        likelihood += weights[i] * both;
        add(&parts[0], weights[i] * (1 - share), values[i]);
        add(&parts[1], weights[i] * share, values[i]);
    }
    mixture->log_likelihood = likelihood;
    return settle(parts, least_sd, mixture);
}

bool tdm_mixture_fit(const double *values, const double *weights, size_t count, double least_sd,
                     const tdm_mixture *start, tdm_mixture *out)
{
    tdm_mixture mixture = *start;
    double before = -INFINITY;
    for (int round = 0; round < MOST_ROUNDS; round++) {
        if (!one_round(values, weights, count, least_sd, &mixture))
            return false;
        if (fabs(mixture.log_likelihood - before) <= 1e-10 * fabs(mixture.log_likelihood))
            break;
        before = mixture.log_likelihood;
    }
    if (mixture.mean[0] > mixture.mean[1]) { /* may cross where the parts overlap */
        const double higher = mixture.mean[0];
        mixture.mean[0] = mixture.mean[1];
        mixture.mean[1] = higher;
        mixture.share = 1 - mixture.share;
    }
    *out = mixture;
    return isfinite(mixture.log_likelihood);
}

static void split(const double *values, const double *weights, size_t count, double cut, moments parts[2])
{
    parts[0] = parts[1] = (moments){0};
    for (size_t i = 0; i < count; i++) {
        if (weights[i] > 0)
            add(&parts[values[i] > cut], weights[i], values[i]);
    }
}

bool tdm_mixture_start(const double *values, const double *weights, size_t count, double least_sd,
                       tdm_mixture *out)
{
    enum { CUTS = 64 };
    double low = INFINITY, high = -INFINITY, best = -INFINITY, best_cut = NAN;
    for (size_t i = 0; i < count; i++) {
        if (weights[i] > 0) {
            low = fmin(low, values[i]);
            high = fmax(high, values[i]);
        }
    }
    if (!(high > low))
        return false;
    moments parts[2];
    for (int i = 1; i < CUTS; i++) {
        const double cut = low + (high - low) * i / CUTS;
        split(values, weights, count, cut, parts);
        if (parts[0].weight <= 0 || parts[1].weight <= 0)
            continue;
        const double gap = parts[1].first / parts[1].weight - parts[0].first / parts[0].weight;
        const double between = parts[0].weight * parts[1].weight * gap * gap;
        if (between > best) {
            best = between;
            best_cut = cut;
        }
    }
    if (!isfinite(best_cut))
        return false;
    split(values, weights, count, best_cut, parts);
    return settle(parts, least_sd, out);
}

double tdm_single_log_likelihood(const double *values, const double *weights, size_t count, double least_sd)
{
    moments all = {0, 0, 0};
    for (size_t i = 0; i < count; i++)
        add(&all, weights[i], values[i]);
    const double mean = all.first / all.weight;
    const double sd = fmax(sqrt(fmax(all.second / all.weight - mean * mean, 0)), least_sd);
    double sum = 0;
    for (size_t i = 0; i < count; i++)
        sum += weights[i] * log_normal(values[i], mean, sd);
    return sum;
}
