/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/fall_judge.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "measure/lightness_cause.h"

/* A step of the fit in CIELAB: the sides' colours, by least squares. */
static bool step_sides(const tdm_fall *fall, int step, double *scratch, double before[3], double after[3])
{
    for (int k = 0; k < 3; k++) {
        for (size_t i = 0; i < fall->bins; i++)
            scratch[i] = fall->lab[3 * i + (size_t)k];
        tdm_shape_fit here = fall->fit;
        const tdm_course course = tdm_fall_course(fall, scratch);
        if (!tdm_shape_refit_heights(&course, &here))
            return false;
        const double place = here.shape == TDM_SHAPE_RAMP ? 0 : here.centre[step];
        before[k] = here.base + here.slope * place + (step == 1 ? here.step[0] : 0);
        after[k] = before[k] + (here.shape == TDM_SHAPE_RAMP ? here.slope * fall->length : here.step[step]);
    }
    return true;
}

static double most_gloss(const tdm_fall *fall)
{
    double most = 0;
    for (size_t i = 0; i < fall->bins; i++)
        most = fmax(most, fall->gloss[i]);
    return most;
}

static double apart(const double a[3], const double b[3])
{
    return hypot(hypot(a[0] - b[0], a[1] - b[1]), a[2] - b[2]);
}

/* A band between hair of one colour may be a plain band of shine, however bright. */
static bool comes_back(const tdm_fall *fall, double sides[2][2][3])
{
    if (fall->fit.shape != TDM_SHAPE_BAND)
        return false;
    const double there = apart(sides[0][0], sides[0][1]);
    return apart(sides[0][0], sides[1][1]) <= fmax(TDM_JND_LAB, 0.3 * there);
}

/* Whether pigment, and not light alone, can have made any of the steps. */
static bool has_colour(const tdm_fall *fall, double *scratch)
{
    const int steps = fall->fit.shape == TDM_SHAPE_UNIFORM ? 0 : fall->fit.shape == TDM_SHAPE_BAND ? 2 : 1;
    double sides[2][2][3];
    if (steps == 0)
        return true;
    for (int step = 0; step < steps; step++) {
        if (!step_sides(fall, step, scratch, sides[step][0], sides[step][1]))
            return true;
    }
    const double gloss = comes_back(fall, sides) ? 1 : TDM_GLOSS_LEFT + most_gloss(fall);
    bool colour = false;
    for (int step = 0; step < steps; step++) {
        const int dark = sides[step][0][0] > sides[step][1][0];
        colour = colour || tdm_is_colour_change(sides[step][dark], sides[step][!dark], gloss);
    }
    return colour;
}

/* A change that light alone can have made isn't one of colour. */
tdm_code tdm_fall_judge(tdm_fall *fall, tdm_error *error)
{
    double *scratch = malloc(fall->bins * sizeof *scratch);
    if (!scratch)
        return tdm_fail_memory(error, NULL);
    const bool colour = has_colour(fall, scratch);
    free(scratch);
    if (colour)
        return TDM_OK;
    fall->by_light = fall->fit;
    const tdm_course course = tdm_fall_course(fall, NULL);
    fall->fit = (tdm_shape_fit){.shape = TDM_SHAPE_UNIFORM, .effective = fall->by_light.effective};
    (void)tdm_shape_refit_heights(&course, &fall->fit); /* a mean can always be had */
    return TDM_OK;
}
