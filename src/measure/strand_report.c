/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/strand_report.h"

#include <math.h>
#include <string.h>

#include "colour/lab.h"
#include "measure/matte.h"
#include "measure/spread.h"

/* What mixtures leave, as a standard uncertainty: found on drawn heads (METHODS.md). */
static const double share_left = 0.06, contrast_left_share = 0.14, contrast_left = 0.35;

tdm_budget tdm_strand_share_budget(double sampling)
{
    return (tdm_budget){.part = {[TDM_PART_SAMPLING] = sampling / 2, [TDM_PART_METHOD] = share_left}};
}

static double stretch_gloss(const tdm_measure_input *input, const tdm_strand_grid *grid)
{
    const double bin = input->columns->bin;
    return tdm_gloss_doubt(tdm_gloss_mean(input, (size_t)(grid->from / bin), (size_t)(grid->to / bin)));
}

tdm_budget tdm_strand_contrast_budget(const tdm_measure_input *input, const tdm_strand_grid *grid,
                                      const double light[3], const double dark[3], double sampling)
{
    const double contrast = light[0] - dark[0];
    tdm_budget budget = tdm_difference_budget(input->sources, light[0], contrast, fabs(sampling) / 2,
                                              stretch_gloss(input, grid));
    budget.part[TDM_PART_METHOD] = tdm_quadrature(contrast_left_share * contrast, contrast_left);
    return budget;
}

/* Michelson's contrast of luminance, and how much it changes for each L* of contrast. */
static double michelson(const double light[3], const double dark[3], double *slope)
{
    double bright[3], dim[3];
    tdm_lab_to_xyz(light, bright);
    tdm_lab_to_xyz(dark, dim);
    const double found = (bright[1] - dim[1]) / (bright[1] + dim[1]);
    *slope = 0.5 * (1 - found * found) * 3 / (0.5 * (light[0] + dark[0]) + 16);
    return found;
}

static void put_contrasts(const tdm_measure_input *input, const tdm_strand_grid *grid,
                          const tdm_strand_parts *parts, struct tdm_zone_reading *out)
{
    const double *light = parts->light, *dark = parts->dark, contrast = light[0] - dark[0];
    const double de00 = tdm_de00(light, dark);
    double slope;
    /* Along the scores' axis the sampling error is a share of the distance, and the same share of each
     * contrast. */
    const double sampling = parts->distance_u / (parts->mixture.mean[1] - parts->mixture.mean[0]) * contrast;
    const tdm_budget lstar = tdm_strand_contrast_budget(input, grid, light, dark, sampling);
    const tdm_budget whole = tdm_budget_times(&lstar, contrast > 0 ? de00 / contrast : NAN);
    const double of_light = michelson(light, dark, &slope);
    const tdm_budget luminance = tdm_budget_times(&lstar, slope);
    tdm_put(out, &out->strands.contrast_lstar, contrast, &lstar);
    tdm_put(out, &out->strands.contrast_de00, de00, &whole);
    tdm_put(out, &out->strands.contrast_michelson, of_light, &luminance);
}

void tdm_strand_parts_report(const tdm_measure_input *input, const tdm_strand_grid *grid,
                             const tdm_strand_parts *parts, struct tdm_zone_reading *out)
{
    const tdm_budget share = tdm_strand_share_budget(parts->share_u);
    const tdm_budget apart = {.part = {[TDM_PART_SAMPLING] = parts->separation_u / 2}};
    out->strands.separable = true;
    out->strands.kinds = parts->three ? 3 : 2;
    memcpy(out->strands.light_lab, parts->light, sizeof parts->light);
    memcpy(out->strands.dark_lab, parts->dark, sizeof parts->dark);
    tdm_put(out, &out->strands.light_share, parts->share, &share);
    tdm_put(out, &out->strands.separation, tdm_mixture_separation(&parts->mixture), &apart);
    put_contrasts(input, grid, parts, out);
    if (!parts->three)
        return;
    memcpy(out->strands.middle_lab, parts->middle, sizeof parts->middle);
    const tdm_budget middle = tdm_strand_share_budget(parts->middle_u);
    tdm_put(out, &out->strands.middle_share, parts->middle_share, &middle);
}
