/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "colour/level.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* L*(n) = black (lightest / black)^((n - 1) / 9): black hair 15-18 and dark brown 21.7-23.8 lie on it
 * (Scanavez et al. 2000 and others), the rest is a choice; see METHODS.md. */
static const double black = 16, lightest = 66;

static const char *const names[] = {
    "black",       "very dark brown", "dark brown",   "medium brown",      "light brown",
    "dark blonde", "medium blonde",   "light blonde", "very light blonde", "lightest blonde"};
enum { NAMES = sizeof names / sizeof names[0] };

tdm_level_scale tdm_level_scale_default(void)
{
    tdm_level_scale scale = {.count = NAMES, .note = "default scale, not calibrated to your swatches"};
    for (size_t i = 0; i < NAMES; i++) {
        scale.level[i] = (double)(i + 1);
        scale.lstar[i] = black * pow(lightest / black, (double)i / (NAMES - 1));
        (void)snprintf(scale.name[i], sizeof scale.name[i], "%s", names[i]);
    }
    return scale;
}

/* Lower knot of the piece in which at lies; the outer pieces reach beyond the ends. */
static size_t piece(const double *knots, size_t count, double at)
{
    size_t i = 0;
    while (i + 2 < count && at > knots[i + 1])
        i++;
    return i;
}

/* ln L* falls without bound near black; below this nothing is told apart. */
static double at_least_one(double lstar)
{
    return lstar < 1 ? 1 : lstar;
}

static double rate(const tdm_level_scale *scale, size_t i)
{
    return (scale->level[i + 1] - scale->level[i]) / log(scale->lstar[i + 1] / scale->lstar[i]);
}

double tdm_level_from_lstar(const tdm_level_scale *scale, double lstar)
{
    if (isnan(lstar))
        return lstar;
    const double held = at_least_one(lstar);
    const size_t i = piece(scale->lstar, scale->count, held);
    const double level = scale->level[i] + rate(scale, i) * log(held / scale->lstar[i]);
    return fmin(fmax(level, scale->level[0]), scale->level[scale->count - 1]);
}

double tdm_level_to_lstar(const tdm_level_scale *scale, double level)
{
    const size_t i = piece(scale->level, scale->count, level);
    return scale->lstar[i] * exp((level - scale->level[i]) / rate(scale, i));
}

double tdm_level_slope(const tdm_level_scale *scale, double lstar)
{
    const double held = isnan(lstar) ? lstar : at_least_one(lstar);
    return rate(scale, piece(scale->lstar, scale->count, held)) / held;
}

const char *tdm_level_name(const tdm_level_scale *scale, double level)
{
    size_t nearest = 0;
    for (size_t i = 1; i < scale->count; i++) {
        if (fabs(scale->level[i] - level) < fabs(scale->level[nearest] - level))
            nearest = i;
    }
    return scale->name[nearest];
}
