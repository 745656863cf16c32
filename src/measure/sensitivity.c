/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/sensitivity.h"

#include <math.h>
#include <stdlib.h>

#include "base/fail.h"
#include "colour/lab.h"

/* Shine lies in a band some 4 to 8 cm wide across the fall, anywhere along it: places and half-widths
 * (standard deviations, mm) of the bands that are tried. Choices. */
enum { PLACES = 7, WIDTHS = 2 };
static const double band_mm[WIDTHS] = {12, 25};

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

static void shine(const tdm_fall *fall, double centre, double spread, double white, nudged *out)
{
    for (size_t i = 0; i < fall->bins; i++) {
        const double z = (fall->along[i] - centre) / spread;
        nudge(fall, i, white * exp(-0.5 * z * z), 1, out);
    }
}

/* Root mean square over the bands. */
static void try_gloss(const tdm_measure_input *input, tdm_fall_figures figures, nudged *with,
                      const double own[TDM_FALL_FIGURES], double out[TDM_FALL_FIGURES])
{
    const tdm_fall *fall = input->fall;
    double squares[TDM_FALL_FIGURES] = {0};
    int count = 0;
    for (int w = 0; w < WIDTHS; w++) {
        for (int p = 0; p < PLACES; p++) {
            double now[TDM_FALL_FIGURES];
            shine(fall, (p + 0.5) / PLACES * fall->length, band_mm[w], tdm_gloss_light(input->sources), with);
            if (!fit_again(input, figures, with, now))
                continue;
            for (int k = 0; k < TDM_FALL_FIGURES; k++)
                squares[k] += (now[k] - own[k]) * (now[k] - own[k]);
            count++;
        }
    }
    for (int k = 0; k < TDM_FALL_FIGURES; k++)
        out[k] = count > 0 ? sqrt(squares[k] / count) : NAN;
}

/* Half of the difference between light that rises and light that falls. */
static void try_light(const tdm_measure_input *input, tdm_fall_figures figures, nudged *with,
                      double out[TDM_FALL_FIGURES])
{
    const tdm_fall *fall = input->fall;
    double now[2][TDM_FALL_FIGURES];
    for (int side = 0; side < 2; side++) {
        const double stops = (side == 0 ? -1 : 1) * input->sources->stops_along;
        for (size_t i = 0; i < fall->bins; i++)
            nudge(fall, i, 0, exp2(stops * (fall->along[i] / fall->length - 0.5)), with);
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
    double own[TDM_FALL_FIGURES];
    nudged with = {malloc(3 * bins * sizeof *with.lab), malloc(bins * sizeof *with.values)};
    const bool ready = with.lab && with.values;
    if (ready) {
        figures(input, &input->fall->fit, input->fall->lab, input->fall->value, own);
        try_gloss(input, figures, &with, own, gloss);
        try_light(input, figures, &with, light);
    }
    free(with.lab);
    free(with.values);
    return ready ? TDM_OK : tdm_fail_memory(error, NULL);
}
