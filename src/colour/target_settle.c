/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which patches and which terms a fit is made of. */
#include <math.h>
#include <string.h>

#include "colour/target.h"

/* Choices, tried on drawn targets; see METHODS.md. */
static const double good_enough = 0.8;   /* CIEDE2000 of coloured patches: no shadow to look for */
static const double spoilt_share = 0.75; /* of what a shadow leaves: less, and it's the neutral patches */
static const double strong_shadow = 0.4; /* stops: one that spoils neutral patches too */
/* Slope of light: 95 % of chi-squared of two degrees of freedom, which is what twice the standard uncertainty
 * comes to in two directions. */
static const double slope_tells = 5.99;

/* Root terms are taken where what they are worth falls by this share and this much in CIEDE2000; nine more
 * numbers always fit better, and where it isn't to this share of the residuals there is no use in looking. */
static const double roots_share = 0.05, roots_gain = 0.025, roots_hope = 0.8;

/* A fit of matrix, curves and an even slope of light. */
static bool fit_all(const tdm_target *target, tdm_target_fit *fit)
{
    const tdm_terms plain = {.rooted = false}, sloped = {.sloped = true};
    tdm_target_fit first;
    return tdm_target_solve(target, &plain, -1, NULL, &first, NULL) &&
           tdm_target_solve(target, &sloped, -1, &first, fit, NULL);
}

static void take_out(tdm_target *target, const bool out[TDM_NEUTRALS])
{
    for (int i = 0; i < TDM_NEUTRALS; i++) {
        if (out[i])
            target->patches[TDM_FIRST_NEUTRAL + i].state = TDM_PATCH_ODD;
    }
}

/* What the fit leaves over may come from a shadow's edge or from neutral patches that are wrong: whatever
 * explains it better. False where there is no fit. */
static bool explain(tdm_target *target, tdm_target_fit *fit)
{
    tdm_target_fit shaded, spoilt;
    bool out[TDM_NEUTRALS];
    const bool fits = fit_all(target, fit);
    const bool spoils = tdm_target_spoilt(target, fits ? fit : NULL, &spoilt, out);
    const bool shade = fits && fit->typical > good_enough && tdm_target_shaded(target, fit, &shaded);
    if (shade && !(spoils && spoilt.typical < spoilt_share * shaded.typical)) {
        *fit = shaded;
    } else if (spoils) {
        *fit = spoilt;
        take_out(target, out);
        if (fit->typical > good_enough && tdm_target_shaded(target, fit, &shaded) &&
            fabs(shaded.free[TDM_FREE_STEP]) > strong_shadow / 2)
            *fit = shaded;
    }
    return fits || spoils;
}

/* Coloured patches, and once more the neutral ones, which are better seen without them; then what was blamed
 * for others' faults comes back. *more: others are odd, but enough are out. False where no fit is left. */
static bool sort_out(tdm_target *target, tdm_target_fit *fit, bool *more)
{
    tdm_target_fit spoilt;
    bool out[TDM_NEUTRALS];
    const int before = tdm_target_kept(target, 0);
    *more = tdm_target_sort_out(target, fit);
    if (tdm_target_kept(target, 0) < before && tdm_target_spoilt(target, fit, &spoilt, out)) {
        *fit = spoilt;
        take_out(target, out);
        *more = tdm_target_sort_out(target, fit);
    }
    return tdm_target_take_back(target, fit);
}

bool tdm_target_explain(tdm_target *target, tdm_target_fit *fit, bool *more)
{
    return explain(target, fit) && sort_out(target, fit, more);
}

/* The slope is told whatever it is, and taken out where it is more than chance. */
bool tdm_target_settle_slope(const tdm_target *target, tdm_target_fit *fit, tdm_calibration *out)
{
    double v[3];
    tdm_terms terms = fit->terms;
    if (!tdm_target_solve(target, &terms, -1, fit, fit, v))
        return false;
    const double x = fit->free[TDM_FREE_SLOPE], y = fit->free[TDM_FREE_SLOPE + 1];
    const double chance = (x * x * v[2] - 2 * x * y * v[1] + y * y * v[0]) / (v[0] * v[2] - v[1] * v[1]);
    for (int i = 0; i < 3; i++)
        out->drift_var[i] = v[i] / (target->scale * target->scale);
    out->drift[0] = x / target->scale;
    out->drift[1] = y / target->scale;
    memcpy(out->middle, target->middle, sizeof out->middle);
    if (chance > slope_tells)
        return true;
    terms.sloped = false;
    return tdm_target_solve(target, &terms, -1, fit, fit, NULL);
}

/* What matters of the left-one-out figures: the target as a whole and hair, alike. */
static double worth(const tdm_left_out left[TDM_PATCHES])
{
    return (tdm_left_out_mean(left) + tdm_left_out_near_hair(left)) / 2;
}

/* Root terms have to earn their place on patches that they haven't seen. */
void tdm_target_settle_roots(const tdm_target *target, tdm_target_fit *fit, tdm_left_out left[TDM_PATCHES])
{
    tdm_left_out rooted_left[TDM_PATCHES];
    tdm_target_fit rooted;
    tdm_terms terms = fit->terms;
    terms.rooted = true;
    tdm_target_leave_out(target, fit, left);
    if (!tdm_target_solve(target, &terms, -1, fit, &rooted, NULL) || rooted.mean > roots_hope * fit->mean)
        return;
    tdm_target_leave_out(target, &rooted, rooted_left);
    const double with = worth(rooted_left), without = worth(left);
    if (!(with < (1 - roots_share) * without && with < without - roots_gain))
        return;
    *fit = rooted;
    memcpy(left, rooted_left, sizeof rooted_left);
}
