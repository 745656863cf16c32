/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/sensitivity.h"

#include <math.h>
#include <stdlib.h>

#include "base/fail.h"
#include "colour/lab.h"

static const double light_doubt = 0.25; /* of what was taken out */

typedef struct nudged {
    double *lab, *values;
} nudged;

/* Adds light to one bin: white light, and a factor on what is there. */
static void nudge(const tdm_fall *fall, size_t bin, double white, double factor, nudged *out)
{
    double xyz[3];
    tdm_lab_to_xyz(fall->lab + 3 * bin, xyz);
    for (int k = 0; k < 3; k++)
        xyz[k] = factor * xyz[k] + white * tdm_white_d50[k];
    tdm_xyz_to_lab(xyz, out->lab + 3 * bin);
    out->values[bin] = tdm_fall_project(fall, out->lab + 3 * bin);
}

static bool fit_again(const tdm_measure_input *input, tdm_fall_figures figures, const nudged *with,
                      double out[TDM_FALL_FIGURES])
{
    tdm_shape_fit fit;
    const tdm_course course = tdm_fall_course(input->fall, with->values);
    if (!tdm_shape_refit(&course, &input->fall->fit, &fit))
        return false;
    figures(input, &fit, with->lab, with->values, out);
    return true;
}

/* What half of the gloss that was taken out would change. */
static void try_gloss(const tdm_measure_input *input, tdm_fall_figures figures, nudged *with,
                      double out[TDM_FALL_FIGURES])
{
    const tdm_fall *fall = input->fall;
    double own[TDM_FALL_FIGURES], shiny[TDM_FALL_FIGURES];
    figures(input, &fall->fit, fall->lab, fall->value, own);
    for (size_t i = 0; i < fall->bins; i++)
        nudge(fall, i, 0.5 * fall->gloss[i], 1, with);
    const bool good = fit_again(input, figures, with, shiny);
    for (int k = 0; k < TDM_FALL_FIGURES; k++)
        out[k] = good ? fabs(shiny[k] - own[k]) : NAN;
}

static double factor_at(const tdm_fall *fall, size_t bin, double stops, double share)
{
    return exp2(stops * (fall->along[bin] / fall->length - 0.5)) * pow(fall->light[bin], share);
}

/* Half of the difference between light that rises and light that falls, by half of what it may and a quarter
 * of what was taken out: its slope shows in the colours in part. */
static void try_light(const tdm_measure_input *input, tdm_fall_figures figures, nudged *with,
                      double out[TDM_FALL_FIGURES])
{
    const tdm_fall *fall = input->fall;
    double now[2][TDM_FALL_FIGURES];
    for (int side = 0; side < 2; side++) {
        const double stops = (side == 0 ? -0.5 : 0.5) * input->sources->stops_along;
        for (size_t i = 0; i < fall->bins; i++)
            nudge(fall, i, 0, factor_at(fall, i, stops, side == 0 ? -light_doubt : light_doubt), with);
        if (!fit_again(input, figures, with, now[side])) {
            for (int k = 0; k < TDM_FALL_FIGURES; k++)
                now[side][k] = NAN;
        }
    }
    for (int k = 0; k < TDM_FALL_FIGURES; k++)
        out[k] = fabs(now[1][k] - now[0][k]) / 2;
}

tdm_code tdm_fall_sensitivity(const tdm_measure_input *input, tdm_fall_figures figures,
                              double gloss[TDM_FALL_FIGURES], double light[TDM_FALL_FIGURES],
                              tdm_error *error)
{
    const size_t bins = input->fall->bins;
    nudged with = {malloc(3 * bins * sizeof *with.lab), malloc(bins * sizeof *with.values)};
    const bool ready = with.lab && with.values;
    if (ready) {
        try_gloss(input, figures, &with, gloss);
        try_light(input, figures, &with, light);
    }
    free(with.lab);
    free(with.values);
    return ready ? TDM_OK : tdm_fail_memory(error, NULL);
}
