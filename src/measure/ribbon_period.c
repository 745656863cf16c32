/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/ribbon_period.h"

#include <gsl/gsl_math.h>
#include <math.h>
#include <stdlib.h>

#include "base/fail.h"
#include "measure/periodogram.h"

/* All choices. */
static const double least_periods = 3; /* that the width must hold */
static const double shortest_mm = 1.5;
static const double finest_mm = 0.5;      /* of a ribbon */
static const double least_kept = 0.5;     /* of the variance across, where strands hold their places */
static const double least_regular = 0.85; /* of what a perfect stripe holds */
enum { STEPS = 4 /* a frequency's own width is so many steps */, LEAST_ACROSS = 5 };

/* The profile's known places, their number, and the mean. */
static size_t take_known(const tdm_ribbon_profile *profile, double *across, double *value, double *mean)
{
    size_t count = 0;
    double sum = 0;
    for (size_t col = 0; col < profile->cols; col++) {
        if (!isfinite(profile->light[col]))
            continue;
        across[count] = ((double)col + 0.5) * profile->cell;
        value[count++] = profile->light[col];
        sum += profile->light[col];
    }
    *mean = count ? sum / (double)count : 0;
    return count;
}

/* Share of its variance that the first harmonic of a stripe holds which is light over this share of its
 * period. */
static double stripe_share(double light)
{
    const double wave = sin(M_PI * light) / M_PI;
    return 2 * wave * wave / (light * (1 - light));
}

/* Top of the parabola through three neighbours, in steps from the middle one. */
static double top(double before, double here, double after)
{
    const double bend = before - 2 * here + after;
    return bend < 0 ? 0.5 * (before - after) / bend : 0;
}

static void strongest(const double *across, const double *value, size_t count, double mean, double width,
                      double to, tdm_ribbon_period *out)
{
    const double step = 1 / (STEPS * width);
    double before = 0, here = tdm_wave_share(across, value, count, mean, least_periods / width, NULL);
    for (double frequency = least_periods / width; frequency <= to; frequency += step) {
        const double after = tdm_wave_share(across, value, count, mean, frequency + step, NULL);
        if (here > out->share) {
            out->share = fmin(here, 1);
            out->period = 1 / (frequency + step * (before > 0 ? top(before, here, after) : 0));
        }
        before = here;
        here = after;
    }
}

static tdm_code count_ribbons(const tdm_ribbon_profile *profile, tdm_ribbon_period *out, tdm_error *error)
{
    tdm_run *runs = malloc((profile->cols / 2 + 1) * sizeof *runs);
    if (!runs)
        return tdm_fail_memory(error, NULL);
    out->ribbons = tdm_runs_find(profile->light, NULL, profile->cols, profile->cell, finest_mm, runs);
    free(runs);
    return TDM_OK;
}

tdm_code tdm_ribbon_period_find(const tdm_ribbon_profile *profile, tdm_ribbon_period *out, tdm_error *error)
{
    *out = (tdm_ribbon_period){.period = NAN, .strength = NAN};
    double *across = malloc((2 * profile->cols + 1) * sizeof *across);
    if (!across)
        return tdm_fail_memory(error, NULL);
    double mean = 0, *value = across + profile->cols;
    const size_t count = take_known(profile, across, value, &mean);
    const double width = (double)count * profile->cell;
    const double to = 1 / fmax(shortest_mm, 3 * profile->cell);
    if (count > 0 && least_periods / width < to)
        strongest(across, value, count, mean, width, to, out);
    free(across);
    if (!(out->share > 0) || !(mean < 1))
        return TDM_OK;
    out->share = fmin(out->share / stripe_share(mean), 1);
    out->strength = out->share * profile->kept;
    out->period *= profile->cosine;
    const tdm_code code = count_ribbons(profile, out, error);
    if (code == TDM_OK && out->ribbons >= LEAST_ACROSS && profile->kept >= least_kept)
        out->pattern = out->share >= least_regular ? "regular" : "random";
    return code;
}
