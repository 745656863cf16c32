/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/grey_mix.h"

#include <gsl/gsl_multimin.h>
#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "measure/spread.h"

enum { BINS = 100, SHARES = 40, TERMS = 4, MOST_ROUNDS = 400, LEAST_PLACES = 50, STARTS = 3 };
/* Of the natural logarithm of luminance: L* 4 to 107. */
static const double lowest = -5.5, highest = 0.2;
/* Places go together with their neighbours: as many count as these. */
static const double independent = 500;
static const double shade_expected = 0.14, shade_doubt = 0.25; /* of the logarithm, as is the next */
static const double grain_expected = 3, grain_doubt = 1;
static const double darkest = 0.0185;    /* black hair, L* 14.6 … */
static const double darkest_doubt = 0.1; /* … and how far below it isn't believed, of the logarithm */
static const double odd = 1e-7;          /* density of what no mix explains */

/* The places' histogram and what belongs to it. */
typedef struct counted {
    double share[BINS], centre[BINS]; /* of the places; of the logarithm */
    double white;
} counted;

static void count_places(const double *light, size_t count, counted *out)
{
    const double step = (highest - lowest) / BINS;
    for (size_t i = 0; i < BINS; i++) {
        out->share[i] = 0;
        out->centre[i] = lowest + ((double)i + 0.5) * step;
    }
    for (size_t i = 0; i < count; i++) {
        const double place = (log(fmax(light[i], 1e-6)) - lowest) / step;
        out->share[(size_t)fmin(fmax(place, 0), BINS - 1)] += 1 / (double)count;
    }
}

/* Masses of the beta distribution in equal cells: its end cells by the powers that rule there. */
static void beta_masses(double share, double grain, double masses[SHARES])
{
    const double a = share * grain, b = (1 - share) * grain, cell = 1.0 / SHARES;
    double top = -INFINITY, sum = 0;
    for (size_t i = 0; i < SHARES; i++) {
        const double f = ((double)i + 0.5) * cell;
        masses[i] = (a - 1) * log(f) + (b - 1) * log(1 - f) + log(cell);
    }
    masses[0] = a * log(cell) - log(a) + (b - 1) * log(1 - 0.5 * cell);
    masses[SHARES - 1] = b * log(cell) - log(b) + (a - 1) * log(1 - 0.5 * cell);
    for (size_t i = 0; i < SHARES; i++)
        top = fmax(top, masses[i]);
    for (size_t i = 0; i < SHARES; i++) {
        masses[i] = exp(masses[i] - top);
        sum += masses[i];
    }
    for (size_t i = 0; i < SHARES; i++)
        masses[i] /= sum;
}

static double square(double x)
{
    return x * x;
}

static double expectations(const tdm_grey_mix *mix)
{
    const double below = fmax(0, log(darkest / mix->natural)) / darkest_doubt;
    return 0.5 * (square(log(mix->shade / shade_expected) / shade_doubt) +
                  square(log(mix->grain / grain_expected) / grain_doubt) + square(below));
}

static tdm_grey_mix unpacked(const gsl_vector *terms)
{
    return (tdm_grey_mix){.natural = exp(gsl_vector_get(terms, 0)),
                          .share = 1 / (1 + exp(-gsl_vector_get(terms, 1))),
                          .grain = exp(gsl_vector_get(terms, 2)),
                          .shade = exp(gsl_vector_get(terms, 3))};
}

static void pack(const tdm_grey_mix *mix, gsl_vector *terms)
{
    const double share = fmin(fmax(mix->share, 1e-4), 1 - 1e-4);
    gsl_vector_set(terms, 0, log(mix->natural));
    gsl_vector_set(terms, 1, log(share / (1 - share)));
    gsl_vector_set(terms, 2, log(mix->grain));
    gsl_vector_set(terms, 3, log(mix->shade));
}

/* Less is likelier. */
static double unlikeliness(const gsl_vector *terms, void *about)
{
    const counted *seen = about;
    const tdm_grey_mix mix = unpacked(terms);
    double masses[SHARES], middle[SHARES], sum = 0;
    if (!(mix.share > 0 && mix.share < 1 && mix.shade > 0.01 && mix.grain > 0.01 && mix.grain < 1e4))
        return INFINITY;
    beta_masses(mix.share, mix.grain, masses);
    for (size_t i = 0; i < SHARES; i++) {
        const double f = ((double)i + 0.5) / SHARES;
        middle[i] = log((1 - f) * mix.natural + f * seen->white);
    }
    for (size_t k = 0; k < BINS; k++) {
        double density = odd;
        for (size_t i = 0; seen->share[k] > 0 && i < SHARES; i++) {
            const double off = (seen->centre[k] - middle[i]) / mix.shade;
            if (fabs(off) < 6)
                density += masses[i] * exp(-0.5 * off * off) / mix.shade;
        }
        sum -= seen->share[k] * log(density);
    }
    return independent * sum + expectations(&mix);
}

static tdm_code search(counted *seen, const tdm_grey_mix *start, tdm_grey_mix *out, double *left,
                       tdm_error *error)
{
    gsl_multimin_fminimizer *with = gsl_multimin_fminimizer_alloc(gsl_multimin_fminimizer_nmsimplex2, TERMS);
    gsl_vector *terms = gsl_vector_alloc(TERMS), *steps = gsl_vector_alloc(TERMS);
    gsl_multimin_function what = {.f = unlikeliness, .n = TERMS, .params = seen};
    tdm_code code = with && terms && steps ? TDM_OK : tdm_fail_memory(error, NULL);
    if (code == TDM_OK) {
        static const double first[TERMS] = {0.2, 0.5, 0.5, 0.2};
        pack(start, terms);
        for (size_t i = 0; i < TERMS; i++)
            gsl_vector_set(steps, i, first[i]);
        bool going = gsl_multimin_fminimizer_set(with, &what, terms, steps) == 0;
        for (int round = 0; going && round < MOST_ROUNDS; round++)
            going = gsl_multimin_fminimizer_iterate(with) == 0 &&
                    gsl_multimin_test_size(gsl_multimin_fminimizer_size(with), 2e-3) == GSL_CONTINUE;
        *out = unpacked(gsl_multimin_fminimizer_x(with));
        *left = gsl_multimin_fminimizer_minimum(with);
    }
    gsl_multimin_fminimizer_free(with);
    gsl_vector_free(terms);
    gsl_vector_free(steps);
    return code;
}

static tdm_code search_all(counted *seen, const double *light, size_t count, tdm_grey_mix *out,
                           tdm_error *error)
{
    static const struct {
        double share, quantile;
    } starts[STARTS] = {{0.05, 0.3}, {0.3, 0.05}, {0.6, 0.01}};
    double best = INFINITY;
    double *sorted = malloc(count * sizeof *sorted);
    if (!sorted)
        return tdm_fail_memory(error, NULL);
    memcpy(sorted, light, count * sizeof *sorted);
    tdm_code code = TDM_OK;
    for (size_t i = 0; code == TDM_OK && i < STARTS; i++) {
        const tdm_grey_mix start = {fmax(tdm_quantile(sorted, count, starts[i].quantile), 1e-4),
                                    starts[i].share, grain_expected, shade_expected};
        tdm_grey_mix found;
        double left = INFINITY;
        code = search(seen, &start, &found, &left, error);
        if (code == TDM_OK && (left < best || i == 0)) {
            best = left;
            *out = found;
        }
    }
    free(sorted);
    return code;
}

tdm_code tdm_grey_mix_fit(const double *light, size_t count, double white, const tdm_grey_mix *start,
                          tdm_grey_mix *out, tdm_error *error)
{
    counted seen = {.white = white};
    double left = 0;
    if (count < LEAST_PLACES)
        return tdm_fail(error, TDM_ERR_UNUSABLE, NULL, NULL, "too little hair to tell grey by");
    count_places(light, count, &seen);
    return start ? search(&seen, start, out, &left, error) : search_all(&seen, light, count, out, error);
}
