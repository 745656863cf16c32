/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/strand_area.h"

#include <math.h>
#include <stdlib.h>

#include "base/fail.h"
#include "measure/ribbon_figures.h"
#include "measure/ribbon_stats.h"
#include "measure/spread.h"
#include "measure/strand_report.h"

/* Sum of the light share, and places, of each block across. */
static void sum_blocks(const tdm_measure_input *input, const tdm_strand_grid *grid, double *light,
                       double *places)
{
    for (size_t i = 0; i < grid->windows * grid->cols; i++) {
        if (!isfinite(grid->light[i]))
            continue;
        const size_t block =
            tdm_block_at(input->columns, ((double)(i % grid->cols) + 0.5) * input->strip->cell);
        light[block] += grid->light[i];
        places[block] += 1;
    }
}

static double mean_of(const double *light, const double *places, const uint16_t *times, size_t blocks)
{
    double sum = 0, count = 0;
    for (size_t i = 0; i < blocks; i++) {
        sum += (times ? times[i] : 1) * light[i];
        count += (times ? times[i] : 1) * places[i];
    }
    return count > 0 ? sum / count : NAN;
}

/* Mean share, and its expanded uncertainty by resampling. */
static tdm_code share_of(const tdm_measure_input *input, const tdm_strand_grid *grid, double *share,
                         double *u, tdm_error *error)
{
    const tdm_resampling *resampling = input->resampling;
    const size_t blocks = input->columns->blocks;
    double *light = calloc(2 * blocks + resampling->resamples, sizeof *light);
    if (!light)
        return tdm_fail_memory(error, NULL);
    double *places = light + blocks, *found = places + blocks;
    size_t count = 0;
    sum_blocks(input, grid, light, places);
    *share = mean_of(light, places, NULL, blocks);
    for (size_t i = 0; i < resampling->resamples; i++) {
        const double mean = mean_of(light, places, resampling->times + i * resampling->blocks, blocks);
        if (isfinite(mean))
            found[count++] = mean;
    }
    *u = tdm_half_range(found, count);
    free(light);
    return TDM_OK;
}

static tdm_code report(const tdm_measure_input *input, const tdm_strand_grid *grid,
                       const tdm_strand_parts *parts, struct tdm_zone_reading *reading, tdm_strand_area *out,
                       tdm_error *error)
{
    double share = NAN, u = NAN, light[3], dark[3];
    tdm_ribbon_figures ribbons;
    tdm_code code = share_of(input, grid, &share, &u, error);
    if (code == TDM_OK)
        code = tdm_ribbon_runs(input, grid, &ribbons, error);
    if (code != TDM_OK || !isfinite(share))
        return code;
    const tdm_budget budget = tdm_strand_share_budget(u);
    out->separable = true;
    tdm_put(reading, &out->light_share, share, &budget);
    out->ribbon_mm = ribbons.median;
    out->spacing_mm = ribbons.spacing_median;
    out->spacing_cv = ribbons.spacing_cv;
    out->count_per_100mm = ribbons.per_100mm;
    if (parts->three || !tdm_strand_unmix(grid, light, dark))
        return TDM_OK;
    const double sampling = parts->distance_u / (parts->mixture.mean[1] - parts->mixture.mean[0]);
    const tdm_budget contrast =
        tdm_strand_contrast_budget(input, grid, light, dark, sampling * (light[0] - dark[0]));
    tdm_put(reading, &out->contrast_lstar, light[0] - dark[0], &contrast);
    return TDM_OK;
}

/* The area's own populations: above a line, hair isn't what it is below. */
static tdm_code measure_apart(const tdm_measure_input *input, const tdm_strand_field *field, double from,
                              double to, struct tdm_zone_reading *reading, tdm_strand_area *out,
                              tdm_error *error)
{
    tdm_strand_grid grid = {0};
    tdm_strand_parts parts;
    tdm_error own = {0};
    tdm_code code = tdm_strand_grid_make(input->strip, field, from, to, &grid, &own);
    if (code == TDM_ERR_UNUSABLE)
        return TDM_OK; /* too short an area to say anything of strands */
    if (code != TDM_OK) {
        if (error)
            *error = own;
        return code;
    }
    code = tdm_strand_parts_of(input, &grid, &parts, error);
    if (code == TDM_OK && parts.separable) {
        tdm_strand_parts_mark(&parts, &grid);
        code = report(input, &grid, &parts, reading, out, error);
    }
    tdm_strand_grid_free(&grid);
    return code;
}

tdm_code tdm_strand_area_measure(const tdm_measure_input *input, const tdm_strand_field *field,
                                 const tdm_strand_grid *grid, const tdm_strand_parts *parts, double from,
                                 double to, struct tdm_zone_reading *reading, tdm_strand_area *out,
                                 tdm_error *error)
{
    if (from < grid->from - 0.5 * grid->window)
        return measure_apart(input, field, from, to, reading, out, error);
    if (!parts->separable)
        return TDM_OK;
    const tdm_strand_grid part = tdm_strand_grid_part(grid, from, to);
    return part.windows > 0 ? report(input, &part, parts, reading, out, error) : TDM_OK;
}
