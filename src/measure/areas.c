/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Colour, level and tone of the whole zone, its root, mid-lengths and ends. */
#include <math.h>
#include <stdlib.h>

#include "base/fail.h"
#include "colour/lab.h"
#include "measure/matte.h"
#include "measure/measure.h"
#include "measure/spread.h"

/* Standard uncertainty. */
static double sampling_u(const tdm_measure_input *input, size_t from, size_t to, double *scratch)
{
    size_t count = 0;
    for (size_t i = 0; i < input->resampling->resamples; i++) {
        double xyz[3], lab[3];
        if (!tdm_columns_mean(input->columns, from, to, input->resampling->times + i * input->columns->blocks,
                              xyz))
            continue;
        tdm_xyz_to_lab(xyz, lab);
        scratch[count++] = lab[0];
    }
    return tdm_half_range(scratch, count) / 2;
}

/* The whole zone's colour is as seen, that of its parts without gloss. */
static void fill_area(const tdm_measure_input *input, size_t from, size_t to, double *scratch,
                      struct tdm_zone_reading *out, tdm_area *area)
{
    double xyz[3];
    const double gloss = tdm_gloss_mean(input, from, to);
    if (!tdm_columns_mean(input->columns, from, to, NULL, xyz))
        return;
    if (area != &out->overall)
        tdm_matte_colour(xyz, tdm_gloss_sure(gloss), 1, xyz);
    tdm_xyz_to_lab(xyz, area->lab);
    const tdm_budget parts = tdm_lightness_budget(
        input->sources, area->lab[0], sampling_u(input, from, to, scratch), tdm_gloss_doubt(gloss));
    const tdm_budget levels = tdm_budget_times(&parts, tdm_level_slope(input->scale, area->lab[0]));
    tdm_put(out, &area->lstar, area->lab[0], &parts);
    tdm_put(out, &area->level, tdm_level_from_lstar(input->scale, area->lab[0]), &levels);
    area->tone = tdm_tone_word(area->lab);
}

static tdm_code compute(const tdm_measure_input *input, struct tdm_zone_reading *out, tdm_warnings *warnings,
                        tdm_error *error)
{
    (void)warnings;
    double *scratch = malloc(input->resampling->resamples * sizeof *scratch);
    if (!scratch)
        return tdm_fail_memory(error, NULL);
    const size_t bins = input->columns->bins;
    const size_t part = tdm_root_bins(input->columns, input->strip->length);
    fill_area(input, 0, bins, scratch, out, &out->overall);
    fill_area(input, 0, part, scratch, out, &out->root);
    fill_area(input, bins / 3, bins - bins / 3, scratch, out, &out->mid);
    fill_area(input, bins - part, bins, scratch, out, &out->ends);
    free(scratch);
    return TDM_OK;
}

const tdm_measure tdm_measure_areas = {.name = "areas", .compute = compute};
