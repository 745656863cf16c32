/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/gradient_trust.h"

#include <math.h>

#include "base/fail.h"

static const double half_rise = 0.5 * TDM_RISE_PER_SIGMA;
static const double fair_from = 0.25, poor_from = 0.6; /* of a width's u over the width */
static const double fine_mm = 2;                       /* a u that is good whatever the width */
static const double much_gloss = 0.1;                  /* of the light that comes from the hair */

static bool is_line(const tdm_shape_fit *fit)
{
    return fit->shape == TDM_SHAPE_TRANSITION || fit->shape == TDM_SHAPE_BAND;
}

/* Part of a rise's 10-90 % stretch that lies in the zone. */
static double seen_width(const tdm_fall *fall)
{
    const int step = tdm_fall_main_step(&fall->fit);
    const double reach = half_rise * fall->fit.sigma[step];
    return fmin(fall->fit.centre[step] + reach, fall->length) - fmax(fall->fit.centre[step] - reach, 0);
}

/* Only what is seen can be vouched for, and that isn't the whole. */
static tdm_code put_bound(const tdm_measure_input *input, struct tdm_zone_reading *out,
                          tdm_warnings *warnings, tdm_error *error)
{
    const tdm_fall *fall = input->fall;
    const double seen = is_line(&fall->fit) ? seen_width(fall) : 0;
    if (!is_line(&fall->fit) || seen > (1 - 1e-6) * tdm_fall_width(fall))
        return TDM_OK;
    const bool ends = fall->fit.centre[tdm_fall_main_step(&fall->fit)] > 0.5 * fall->length;
    const tdm_budget unknown = {.part = {NAN}};
    tdm_put(out, &out->gradient.width_mm, tdm_mm(input->strip, seen), &unknown);
    tdm_put(out, &out->gradient.width_share, seen / fall->length, &unknown);
    out->gradient.bound = "at least";
    return tdm_warn(warnings, error, "fall-runs-off", input->zone,
                    "the change of colour isn't over where the zone %s, so that its width is at least what "
                    "is stated; mark the hair %s",
                    ends ? "ends" : "begins", ends ? "down to its ends" : "up to the root");
}

static double total_gloss(const tdm_fall *fall)
{
    double gloss = 0, light = 0;
    for (size_t i = 0; i < fall->bins; i++) {
        /* Back to what was seen: the hair's own light under the light that fell there, and the gloss. */
        const double f = (fall->lab[3 * i] + 16) / 116;
        gloss += fall->weight[i] * fall->gloss[i];
        light += fall->weight[i] * (f * f * f * fall->light[i] + fall->gloss[i]);
    }
    return light > 0 ? gloss / light : 0;
}

static tdm_code say_gloss(const tdm_measure_input *input, struct tdm_zone_reading *out,
                          tdm_warnings *warnings, tdm_error *error)
{
    out->gloss_share = total_gloss(input->fall);
    if (out->gloss_share <= much_gloss)
        return TDM_OK;
    return tdm_warn(warnings, error, "gloss", input->zone,
                    "%.0f %% of the light from the hair is gloss; it was taken out as far as it can be told, "
                    "but turn the head or the lamp until the band of shine is off the hair, or use crossed "
                    "polarisers",
                    100 * out->gloss_share);
}

/* What light that rises and falls along the hair does to its lightness, from darkest to lightest. */
static double light_range(const tdm_fall *fall)
{
    double low = INFINITY, high = 0, sum = 0, weights = 0;
    for (size_t i = 0; i < fall->bins; i++) {
        if (fall->weight[i] <= 0)
            continue;
        low = fmin(low, cbrt(fall->light[i]));
        high = fmax(high, cbrt(fall->light[i]));
        sum += fall->weight[i] * (fall->lab[3 * i] + 16);
        weights += fall->weight[i];
    }
    return weights > 0 ? (high - low) * sum / weights : 0;
}

/* A change of lightness that light made: a shadow, a fold, a plain band of shine. */
static tdm_code say_light(const tdm_measure_input *input, struct tdm_zone_reading *out,
                          tdm_warnings *warnings, tdm_error *error)
{
    const tdm_fall *fall = input->fall;
    const tdm_shape_fit *fit = &fall->by_light;
    double size = light_range(fall);
    if (fit->shape != TDM_SHAPE_UNIFORM) {
        const double step = is_line(fit) ? fit->step[tdm_fall_main_step(fit)] : fit->slope * fall->length;
        size = fmax(size, fabs(step * fall->direction[0]));
    }
    if (size < TDM_JND_LAB)
        return TDM_OK;
    out->gradient.light_lstar = size;
    return tdm_warn(warnings, error, "light-not-colour", input->zone,
                    "lightness changes by %.1f L* along the hair without the change of colour that pigment "
                    "brings: taken for shadow or shine, not for a line; light the hair evenly",
                    size);
}

static int confidence_of_width(const struct tdm_zone_reading *out)
{
    const tdm_value *width =
        isfinite(out->gradient.width_mm.value) ? &out->gradient.width_mm : &out->gradient.width_share;
    if (!isfinite(width->u))
        return 0;
    const bool fine = width == &out->gradient.width_mm && width->u <= fine_mm;
    const double share = width->u / width->value;
    return fine || share <= fair_from ? 2 : share <= poor_from ? 1 : 0;
}

static void grade_confidence(const tdm_fall *fall, struct tdm_zone_reading *out)
{
    static const char *const words[] = {"poor", "fair", "good"};
    int grade = is_line(&fall->fit) ? confidence_of_width(out) : 2;
    if (isfinite(out->gradient.light_lstar) || out->gloss_share > much_gloss)
        grade = grade > 0 ? grade - 1 : 0;
    out->gradient.confidence = words[grade];
}

tdm_code tdm_gradient_trust(const tdm_measure_input *input, struct tdm_zone_reading *out,
                            tdm_warnings *warnings, tdm_error *error)
{
    tdm_code code = put_bound(input, out, warnings, error);
    if (code == TDM_OK)
        code = say_gloss(input, out, warnings, error);
    if (code == TDM_OK)
        code = say_light(input, out, warnings, error);
    if (code == TDM_OK)
        grade_confidence(input->fall, out);
    return code;
}
