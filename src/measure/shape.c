/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/shape.h"

#include <math.h>

#include "base/fail.h"
#include "measure/shape_linear.h"
#include "measure/shape_refine.h"

enum { CENTRES = 40, SIGMAS = 10, BAND_CENTRES = 16, BAND_SIGMAS = 4, LEAST_SAMPLES = 16 };

/* A richer shape must be better by this much (strong evidence on Kass and Raftery's 1995 scale). */
static const double bic_margin = 6;
static const double least_side = 0.02;

static bool has_trend(const tdm_shape_fit *fit)
{
    return fit->shape == TDM_SHAPE_RAMP || fit->slope != 0;
}

static int step_count(const tdm_shape_fit *fit)
{
    return fit->shape == TDM_SHAPE_BAND ? 2 : fit->shape == TDM_SHAPE_TRANSITION ? 1 : 0;
}

const char *tdm_shape_word(tdm_shape shape)
{
    static const char *const words[] = {"uniform", "ramp", "transition", "band"};
    return words[shape];
}

double tdm_shape_value(const tdm_shape_fit *fit, double along)
{
    double value = fit->base + fit->slope * along;
    for (int k = 0; k < step_count(fit); k++)
        value += fit->step[k] * tdm_rise(along, fit->centre[k], fit->sigma[k]);
    return value;
}

static double least_sigma(const tdm_course *course)
{
    return 0.5 * course->length / (double)course->count;
}

/* Log-spaced widths from half a sample to 0.4 of the length. */
static double grid_sigma(const tdm_course *course, int i, int count)
{
    const double low = least_sigma(course), high = 0.4 * course->length;
    return low * pow(high / low, (double)i / (count - 1));
}

static void keep_better(const tdm_course *course, bool trend, int steps, tdm_shape_fit *trial,
                        tdm_shape_fit *best, bool *have)
{
    if (!tdm_shape_solve(course, trend, steps, trial))
        return;
    if (!*have || trial->rss < best->rss) {
        *best = *trial;
        *have = true;
    }
}

static bool search_transition(const tdm_course *course, bool trend, double from, double to,
                              tdm_shape_fit *best)
{
    bool have = false;
    for (int i = 0; i < CENTRES; i++) {
        for (int j = 0; j < SIGMAS; j++) {
            tdm_shape_fit trial = {.shape = TDM_SHAPE_TRANSITION};
            trial.centre[0] = from + (to - from) * (i + 0.5) / CENTRES;
            trial.sigma[0] = grid_sigma(course, j, SIGMAS);
            keep_better(course, trend, 1, &trial, best, &have);
        }
    }
    if (have)
        (void)tdm_shape_refine(course, trend, 1, best); /* the grid's best stands where it doesn't converge */
    return have;
}

static bool opposite(const tdm_shape_fit *fit)
{
    return fit->step[0] * fit->step[1] < 0;
}

static bool search_band(const tdm_course *course, tdm_shape_fit *best)
{
    bool have = false;
    for (int i = 0; i < BAND_CENTRES; i++) {
        for (int j = i + 1; j < BAND_CENTRES; j++) {
            for (int widths = 0; widths < BAND_SIGMAS * BAND_SIGMAS; widths++) {
                tdm_shape_fit trial = {.shape = TDM_SHAPE_BAND};
                trial.centre[0] = course->length * (i + 0.5) / BAND_CENTRES;
                trial.centre[1] = course->length * (j + 0.5) / BAND_CENTRES;
                trial.sigma[0] = grid_sigma(course, 2 * (widths / BAND_SIGMAS) + 1, SIGMAS);
                trial.sigma[1] = grid_sigma(course, 2 * (widths % BAND_SIGMAS) + 1, SIGMAS);
                if (tdm_shape_solve(course, false, 2, &trial) && opposite(&trial) &&
                    (!have || trial.rss < best->rss)) {
                    *best = trial;
                    have = true;
                }
            }
        }
    }
    if (have)
        (void)tdm_shape_refine(course, false, 2, best);
    return have;
}

/* Independent samples among n whose residuals have this lag-1 correlation (first-order autoregression). */
static double effective_samples(const tdm_course *course, const tdm_shape_fit *fit)
{
    double product = 0, square = 0, previous = 0, count = 0;
    for (size_t i = 0; i < course->count; i++) {
        if (course->weight[i] <= 0)
            continue;
        const double residual = course->value[i] - tdm_shape_value(fit, course->along[i]);
        if (count > 0)
            product += residual * previous;
        square += residual * residual;
        previous = residual;
        count += 1;
    }
    double correlation = square > 0 ? product / square : 0;
    correlation = fmin(fmax(correlation, 0), 0.98);
    return fmax(count * (1 - correlation) / (1 + correlation), 8);
}

static double bic(const tdm_shape_fit *fit, double effective, double weights, int parameters, double floor)
{
    /* A residual below the floor is no better: on noiseless courses every shape would otherwise win by
     * rounding. */
    const double mean_square = fmax(fit->rss / weights, floor);
    return effective * log(mean_square) + parameters * log(effective);
}

static double total_weight(const tdm_course *course, size_t *samples)
{
    double sum = 0;
    *samples = 0;
    for (size_t i = 0; i < course->count; i++) {
        if (course->weight[i] > 0) {
            sum += course->weight[i];
            *samples += 1;
        }
    }
    return sum;
}

static bool inside(const tdm_shape_fit *fit, int step, double length)
{
    /* So near an end there's hardly anything on one side. */
    return fit->centre[step] >= least_side * length && fit->centre[step] <= (1 - least_side) * length &&
           TDM_RISE_PER_SIGMA * fit->sigma[step] <= 1.2 * length;
}

/* A transition counts when its step rises above the noise and its centre lies on the hair. */
static bool is_transition(const tdm_shape_fit *fit, double noise, double length)
{
    return fabs(fit->step[0]) >= noise && inside(fit, 0, length);
}

/* How far the course gets half-way between the two centres, as a share of the first step: steps that overlap
 * cancel. */
static double plateau(const tdm_shape_fit *fit)
{
    const double middle = 0.5 * (fit->centre[0] + fit->centre[1]);
    const double there = fit->step[0] * tdm_rise(middle, fit->centre[0], fit->sigma[0]) +
                         fit->step[1] * tdm_rise(middle, fit->centre[1], fit->sigma[1]);
    return there / fit->step[0];
}

/* A band counts when it is there to be seen between its sides, and both stand out from the noise and from one
 * another's size. */
static bool is_band(const tdm_shape_fit *fit, double noise, double length)
{
    const double first = fabs(fit->step[0]), second = fabs(fit->step[1]);
    return opposite(fit) && inside(fit, 0, length) && inside(fit, 1, length) &&
           fit->centre[1] > fit->centre[0] && plateau(fit) >= 0.7 &&
           fmin(first, second) >= fmax(2 * noise, 0.2 * fmax(first, second));
}

typedef struct candidate {
    tdm_shape_fit fit;
    int parameters;
    bool counts;
} candidate;

tdm_code tdm_shape_choose(const tdm_course *course, double noise, tdm_shape_fit *out, tdm_error *error)
{
    size_t samples = 0;
    const double weights = total_weight(course, &samples);
    if (samples < LEAST_SAMPLES)
        return tdm_fail(error, TDM_ERR_UNUSABLE, NULL, NULL,
                        "too little of the hair along the path can be used to find its shape");
    candidate all[5] = {
        {.fit = {.shape = TDM_SHAPE_UNIFORM}, .parameters = 1},
        {.fit = {.shape = TDM_SHAPE_RAMP}, .parameters = 2},
        {.parameters = 4},
        {.parameters = 5},
        {.parameters = 7},
    };
    const double length = course->length;
    all[0].counts = tdm_shape_solve(course, false, 0, &all[0].fit);
    all[1].counts = tdm_shape_solve(course, true, 0, &all[1].fit) && fabs(all[1].fit.slope) * length >= noise;
    all[2].counts =
        search_transition(course, false, 0, length, &all[2].fit) && is_transition(&all[2].fit, noise, length);
    all[3].counts =
        search_transition(course, true, 0, length, &all[3].fit) && is_transition(&all[3].fit, noise, length);
    all[4].counts = search_band(course, &all[4].fit) && is_band(&all[4].fit, noise, length);
    if (!all[0].counts)
        return tdm_fail(error, TDM_ERR_UNUSABLE, NULL, NULL,
                        "the hair's course along the path can't be fitted");

    const candidate *richest = &all[0];
    for (size_t i = 1; i < 5; i++) {
        if (all[i].counts && all[i].fit.rss < richest->fit.rss)
            richest = &all[i];
    }
    const double effective = effective_samples(course, &richest->fit);
    const double floor = 1e-4 * noise * noise;
    const candidate *best = NULL;
    double best_bic = INFINITY;
    for (size_t i = 0; i < 5; i++) {
        if (!all[i].counts)
            continue;
        const double value = bic(&all[i].fit, effective, weights, all[i].parameters, floor);
        if (!best || value < best_bic - bic_margin) {
            best = &all[i];
            best_bic = value;
        }
    }
    *out = best->fit;
    out->effective = effective;
    return TDM_OK;
}

bool tdm_shape_transition(const tdm_course *course, double from, double to, tdm_shape_fit *out)
{
    tdm_shape_fit best = {.shape = TDM_SHAPE_TRANSITION};
    if (!search_transition(course, false, from, to, &best))
        return false;
    best.effective = effective_samples(course, &best);
    *out = best;
    return true;
}

bool tdm_shape_refit_heights(const tdm_course *course, tdm_shape_fit *fit)
{
    return tdm_shape_solve(course, has_trend(fit), step_count(fit), fit);
}

bool tdm_shape_refit(const tdm_course *course, const tdm_shape_fit *start, tdm_shape_fit *out)
{
    tdm_shape_fit fit = *start;
    const int steps = step_count(&fit);
    const bool good = steps > 0 ? tdm_shape_refine(course, has_trend(&fit), steps, &fit)
                                : tdm_shape_refit_heights(course, &fit);
    if (good)
        *out = fit;
    return good;
}
