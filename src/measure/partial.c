/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/partial.h"

#include <math.h>
#include <string.h>

/* Mixed places as so many equally likely proportions between the pure ones at either end. */
enum { MIXED = 5, ALL = MIXED + 2 };

static double light_of(int component)
{
    return component == 0 ? 0 : component == ALL - 1 ? 1 : (component - 0.5) / MIXED;
}

static int kind_of(int component)
{
    return component == 0 ? 0 : component == ALL - 1 ? 2 : 1;
}

static double centre_of(const tdm_partial *of, int component)
{
    return of->mean[0] + light_of(component) * (of->mean[1] - of->mean[0]);
}

/* Weight, first and second moment of what falls to each component. */
typedef struct gathered {
    double weight[ALL], first[ALL], second[ALL], total;
} gathered;

static void share_out(double value, double weight, const tdm_partial *of, gathered *out)
{
    double part[ALL], sum = 0;
    for (int k = 0; k < ALL; k++) {
        const double z = (value - centre_of(of, k)) / of->sd;
        part[k] = of->weight[kind_of(k)] * (kind_of(k) == 1 ? 1.0 / MIXED : 1) * exp(-0.5 * z * z);
        sum += part[k];
    }
    if (!(sum > 1e-300)) /* too far from every component to say */
        return;
    out->total += weight;
    for (int k = 0; k < ALL; k++) {
        const double here = weight * part[k] / sum;
        out->weight[k] += here;
        out->first[k] += here * value;
        out->second[k] += here * value * value;
    }
}

/* Weighted least squares of the values on their components' proportions gives the pure means. */
static bool settle(const gathered *from, double least_sd, tdm_partial *out)
{
    double dark = 0, both = 0, light = 0, low = 0, high = 0, square = 0;
    tdm_partial found = {.weight = {0, 0, 0}};
    for (int k = 0; k < ALL; k++) {
        const double f = light_of(k);
        dark += from->weight[k] * (1 - f) * (1 - f);
        both += from->weight[k] * (1 - f) * f;
        light += from->weight[k] * f * f;
        low += from->first[k] * (1 - f);
        high += from->first[k] * f;
        found.weight[kind_of(k)] += from->weight[k] / from->total;
    }
    const double determinant = dark * light - both * both;
    if (!(determinant > 1e-9 * from->total * from->total))
        return false;
    found.mean[0] = (low * light - high * both) / determinant;
    found.mean[1] = (high * dark - low * both) / determinant;
    for (int k = 0; k < ALL; k++) {
        const double centre = centre_of(&found, k);
        square += from->second[k] - 2 * centre * from->first[k] + centre * centre * from->weight[k];
    }
    found.sd = fmax(sqrt(fmax(square / from->total, 0)), least_sd);
    *out = found;
    return found.mean[1] - found.mean[0] > 1e-6 * found.sd;
}

tdm_partial tdm_partial_start(const tdm_mixture *mixture)
{
    return (tdm_partial){.mean = {mixture->mean[0], mixture->mean[1]},
                         .sd = mixture->sd,
                         .weight = {0.8 * (1 - mixture->share), 0.2, 0.8 * mixture->share}};
}

bool tdm_partial_fit(const double *values, const double *weights, size_t count, double least_sd, int rounds,
                     const tdm_partial *start, tdm_partial *out)
{
    tdm_partial fit = *start;
    for (int round = 0; round < rounds; round++) {
        const tdm_partial before = fit;
        gathered sums;
        memset(&sums, 0, sizeof sums);
        for (size_t i = 0; i < count; i++) {
            if (weights[i] > 0)
                share_out(values[i], weights[i], &fit, &sums);
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
    return partial->weight[2] + 0.5 * partial->weight[1];
}
