/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/partial.h"

#include <gsl/gsl_math.h>
#include <math.h>
#include <string.h>

enum { MIXED = TDM_PARTIAL_MIXED, ALL = TDM_PARTIAL_ALL };

static const double most_tilt = 4;
static const double even_prior = 0.02; /* of all weight, mixed evenly: few mixed places tilt nothing */

double tdm_partial_light(size_t component)
{
    return component == 0 ? 0 : component == ALL - 1 ? 1 : ((double)component - 0.5) / MIXED;
}

static size_t kind_of(size_t component)
{
    return component == 0 ? 0 : component == ALL - 1 ? 2 : 1;
}

static double centre_of(const tdm_partial *of, size_t component)
{
    return of->mean[0] + of->place[component] * (of->mean[1] - of->mean[0]);
}

/* Shares of the components in all. */
static void component_weights(const tdm_partial *of, double out[ALL])
{
    double sum = 0;
    for (size_t k = 1; k <= MIXED; k++)
        sum += out[k] = exp(of->tilt * (tdm_partial_light(k) - 0.5));
    for (size_t k = 1; k <= MIXED; k++)
        out[k] *= of->weight[1] / sum;
    out[0] = of->weight[0];
    out[ALL - 1] = of->weight[2];
}

/* The components' parts in a value's density, but for the normal factor; returns their sum. */
static double parts_at(const tdm_partial *of, const double weights[ALL], double value, double out[ALL])
{
    double sum = 0;
    for (size_t k = 0; k < ALL; k++) {
        const double z = (value - centre_of(of, k)) / of->sd;
        sum += out[k] = weights[k] * exp(-0.5 * z * z);
    }
    return sum;
}

/* Weight, first and second moment of what falls to each component. */
typedef struct gathered {
    double weight[ALL], first[ALL], second[ALL], total;
} gathered;

static void share_out(double value, double weight, const tdm_partial *of, const double weights[ALL],
                      gathered *out)
{
    double part[ALL];
    const double sum = parts_at(of, weights, value, part);
    if (!(sum > 1e-300)) /* too far from every component to say */
        return;
    out->total += weight;
    for (size_t k = 0; k < ALL; k++) {
        const double here = weight * part[k] / sum;
        out->weight[k] += here;
        out->first[k] += here * value;
        out->second[k] += here * value * value;
    }
}

/* The tilt whose mean proportion is that of the mixed places, by Newton's method. */
static double tilt_of(const gathered *from)
{
    double mixed = even_prior * from->total, light = 0.5 * mixed, tilt = 0;
    for (size_t k = 1; k <= MIXED; k++) {
        mixed += from->weight[k];
        light += from->weight[k] * tdm_partial_light(k);
    }
    for (int round = 0; round < 30; round++) {
        double sum = 0, first = 0, second = 0;
        for (size_t k = 1; k <= MIXED; k++) {
            const double f = tdm_partial_light(k), weight = exp(tilt * (f - 0.5));
            sum += weight;
            first += weight * f;
            second += weight * f * f;
        }
        const double mean = first / sum, variance = second / sum - mean * mean;
        tilt = fmin(fmax(tilt + (light / mixed - mean) / variance, -most_tilt), most_tilt);
    }
    return tilt;
}

/* Weighted least squares of the values on their components' places gives the pure means. */
static bool settle_means(const gathered *from, const tdm_partial *before, tdm_partial *out)
{
    double dark = 0, both = 0, light = 0, low = 0, high = 0;
    for (size_t k = 0; k < ALL; k++) {
        const double f = before->place[k];
        dark += from->weight[k] * (1 - f) * (1 - f);
        both += from->weight[k] * (1 - f) * f;
        light += from->weight[k] * f * f;
        low += from->first[k] * (1 - f);
        high += from->first[k] * f;
    }
    const double determinant = dark * light - both * both;
    if (!(determinant > 1e-9 * from->total * from->total))
        return false;
    out->mean[0] = (low * light - high * both) / determinant;
    out->mean[1] = (high * dark - low * both) / determinant;
    return true;
}

static bool settle(const gathered *from, double least_sd, tdm_partial *out)
{
    tdm_partial found = *out;
    if (!settle_means(from, out, &found))
        return false;
    double square = 0;
    memset(found.weight, 0, sizeof found.weight);
    for (size_t k = 0; k < ALL; k++) {
        const double centre = centre_of(&found, k);
        square += from->second[k] - 2 * centre * from->first[k] + centre * centre * from->weight[k];
        found.weight[kind_of(k)] += from->weight[k] / from->total;
    }
    found.sd = fmax(sqrt(fmax(square / from->total, 0)), least_sd);
    found.tilt = tilt_of(from);
    *out = found;
    return found.mean[1] - found.mean[0] > 1e-6 * found.sd;
}

tdm_partial tdm_partial_start(const tdm_mixture *mixture)
{
    tdm_partial start = {.mean = {mixture->mean[0], mixture->mean[1]},
                         .sd = mixture->sd,
                         .weight = {0.8 * (1 - mixture->share), 0.2, 0.8 * mixture->share}};
    for (size_t k = 0; k < ALL; k++)
        start.place[k] = tdm_partial_light(k);
    return start;
}

bool tdm_partial_fit(const double *values, const double *weights, size_t count, double least_sd, int rounds,
                     const tdm_partial *start, tdm_partial *out)
{
    tdm_partial fit = *start;
    for (int round = 0; round < rounds; round++) {
        const tdm_partial before = fit;
        double components[ALL];
        gathered sums;
        memset(&sums, 0, sizeof sums);
        component_weights(&fit, components);
        for (size_t i = 0; i < count; i++) {
            if (weights[i] > 0)
                share_out(values[i], weights[i], &fit, components, &sums);
        }
        if (!(sums.total > 0) || !settle(&sums, least_sd, &fit))
            return false;
        if (fabs(tdm_partial_share(&fit) - tdm_partial_share(&before)) < 1e-6 &&
            fabs(fit.mean[0] - before.mean[0]) + fabs(fit.mean[1] - before.mean[1]) < 1e-4 * fit.sd)
            break;
    }
    *out = fit;
    return true;
}

double tdm_partial_share(const tdm_partial *partial)
{
    double weights[ALL], sum = 0;
    component_weights(partial, weights);
    for (size_t k = 0; k < ALL; k++)
        sum += weights[k] * tdm_partial_light(k);
    return sum;
}

double tdm_partial_expect(const tdm_partial *partial, double value)
{
    double weights[ALL], part[ALL], light = 0;
    component_weights(partial, weights);
    const double sum = parts_at(partial, weights, value, part);
    if (!(sum > 1e-300))
        return value > centre_of(partial, MIXED / 2 + 1) ? 1 : 0;
    for (size_t k = 0; k < ALL; k++)
        light += part[k] * tdm_partial_light(k);
    return light / sum;
}

double tdm_partial_log_likelihood(const double *values, const double *weights, size_t count,
                                  const tdm_partial *partial)
{
    double components[ALL], part[ALL], sum = 0;
    const double factor = log(partial->sd) + 0.5 * log(2 * M_PI);
    component_weights(partial, components);
    for (size_t i = 0; i < count; i++) {
        if (weights[i] > 0)
            sum += weights[i] * (log(fmax(parts_at(partial, components, values[i], part), 1e-300)) - factor);
    }
    return sum;
}
