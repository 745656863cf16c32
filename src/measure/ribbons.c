/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/ribbons.h"

#include <math.h>
#include <stdlib.h>

#include "base/fail.h"
#include "measure/ribbon_period.h"
#include "measure/ribbon_start.h"
#include "measure/ribbon_stats.h"
#include "measure/ribbon_track.h"
#include "measure/spread.h"

/* Choices. */
static const double least_length_mm = 10;       /* of a ribbon that is followed */
static const double fine_mm = 3, chunky_mm = 6; /* common practice, no source */
enum { LEAST_RIBBONS = 3 };

/* What counting leaves, as a standard uncertainty: found on drawn heads (METHODS.md). */
static const double width_left_share = 0.05, width_left_mm = 0.2, count_left_share = 0.1;
static const double start_left_mm = 1;

static const char *weave_of(double mm)
{
    return !isfinite(mm) ? NULL : mm < fine_mm ? "fine" : mm <= chunky_mm ? "medium" : "chunky";
}

static tdm_code report_runs(const tdm_measure_input *input, const tdm_ribbon_figures *found,
                            struct tdm_zone_reading *out, tdm_warnings *warnings, tdm_error *error)
{
    if (isfinite(found->median)) {
        tdm_budget width = tdm_length_budget(input->sources, found->median, found->median_sampling);
        width.part[TDM_PART_METHOD] = tdm_quadrature(width_left_share * found->median, width_left_mm);
        out->strands.ribbon_median = found->median;
        out->strands.ribbon_u = tdm_budget_u(&width);
    }
    if (isfinite(found->per_100mm)) {
        tdm_budget number = tdm_length_budget(input->sources, found->per_100mm, found->per_100mm_sampling);
        number.part[TDM_PART_METHOD] = count_left_share * found->per_100mm;
        tdm_put(out, &out->strands.count_per_100mm, found->per_100mm, &number);
    }
    out->strands.ribbon_p25 = found->p25;
    out->strands.ribbon_p75 = found->p75;
    out->strands.spacing_median = found->spacing_median;
    out->strands.spacing_cv = found->spacing_cv;
    out->strands.weave = weave_of(found->median);
    if (!found->too_fine)
        return TDM_OK;
    return tdm_warn(
        warnings, error, "ribbons-too-fine", input->zone,
        "the light ribbons are under 3 pixels wide, too fine for this picture; move closer or use a larger "
        "picture");
}

static double area_of(const tdm_ribbon *ribbon)
{
    double sum = 0;
    for (size_t i = 0; i < ribbon->windows; i++)
        sum += ribbon->edges[2 * i + 1] - ribbon->edges[2 * i];
    return sum;
}

typedef enum what { START, ONSET, LENGTH } what;

static double value_of(const tdm_strand_map *map, const tdm_ribbon *ribbon, what of)
{
    const double begins = map->from + (double)ribbon->first * map->window;
    const double ends = begins + (double)ribbon->windows * map->window;
    if (of == LENGTH)
        return ends - fmin(isfinite(ribbon->start) ? ribbon->start : begins, begins);
    return of == START ? ribbon->start : ribbon->onset;
}

/* Quartiles of one value over the map's ribbons, each counted by its area. */
static tdm_code quartiles(const tdm_measure_input *input, const tdm_strand_map *map, what of,
                          tdm_sample *samples, double quartile[3], double *sampling, tdm_error *error)
{
    size_t count = 0;
    quartile[0] = quartile[1] = quartile[2] = NAN;
    for (size_t i = 0; i < map->ribbon_count; i++) {
        const tdm_ribbon *ribbon = map->ribbons + i;
        const double value = value_of(map, ribbon, of);
        const double middle = 0.5 * (ribbon->edges[0] + ribbon->edges[1]);
        if (isfinite(value))
            samples[count++] = (tdm_sample){value, area_of(ribbon), tdm_block_at(input->columns, middle)};
    }
    if (count < LEAST_RIBBONS)
        return TDM_OK;
    tdm_samples_sort(samples, count);
    for (int k = 0; k < 3; k++)
        quartile[k] = tdm_samples_quantile(samples, count, 0.25 * (k + 1), NULL);
    return sampling ? tdm_samples_spread(samples, count, 0.5, input->resampling, sampling, error) : TDM_OK;
}

static void put_start(const tdm_measure_input *input, const double start[3], double sampling,
                      struct tdm_zone_reading *out)
{
    const double median = tdm_from_root(input->strip, start[1]);
    if (!isfinite(median))
        return;
    tdm_budget parts = tdm_length_budget(input->sources, median, sampling);
    parts.part[TDM_PART_METHOD] = start_left_mm;
    out->strands.start_median = median;
    out->strands.start_u = tdm_budget_u(&parts);
    out->strands.start_p25 = tdm_from_root(input->strip, start[0]);
    out->strands.start_p75 = tdm_from_root(input->strip, start[2]);
}

static tdm_code report_ribbons(const tdm_measure_input *input, struct tdm_zone_reading *out, tdm_error *error)
{
    const tdm_strand_map *map = &out->strands.map;
    double start[3], onset[3], length[3], sampling = NAN;
    tdm_sample *samples = malloc((map->ribbon_count + 1) * sizeof *samples);
    tdm_code code = samples ? TDM_OK : tdm_fail_memory(error, NULL);
    if (code == TDM_OK)
        code = quartiles(input, map, START, samples, start, &sampling, error);
    if (code == TDM_OK)
        code = quartiles(input, map, ONSET, samples, onset, NULL, error);
    if (code == TDM_OK)
        code = quartiles(input, map, LENGTH, samples, length, NULL, error);
    if (code == TDM_OK) {
        put_start(input, start, sampling, out);
        out->strands.onset_p25 = tdm_mm(input->strip, onset[0]);
        out->strands.onset_median = tdm_mm(input->strip, onset[1]);
        out->strands.onset_p75 = tdm_mm(input->strip, onset[2]);
        out->strands.length_p25 = tdm_mm(input->strip, length[0]);
        out->strands.length_median = tdm_mm(input->strip, length[1]);
        out->strands.length_p75 = tdm_mm(input->strip, length[2]);
    }
    free(samples);
    return code;
}

static tdm_code follow(const tdm_measure_input *input, const tdm_strand_field *field,
                       const tdm_strand_grid *grid, const tdm_run_table *table, struct tdm_zone_reading *out,
                       tdm_error *error)
{
    tdm_strand_map *map = &out->strands.map;
    const size_t least = (size_t)(least_length_mm / grid->window + 0.5);
    tdm_code code =
        tdm_ribbon_track(grid, table, input->strip->cell, least, &map->ribbons, &map->ribbon_count, error);
    if (code == TDM_OK)
        code = tdm_ribbon_starts(input, field, out->strands.light_lab, out->strands.dark_lab, map, error);
    return code == TDM_OK ? report_ribbons(input, out, error) : code;
}

static tdm_code look_across(const tdm_measure_input *input, const tdm_strand_field *field,
                            const tdm_strand_grid *grid, struct tdm_zone_reading *out, tdm_error *error)
{
    tdm_ribbon_profile profile = {0};
    tdm_ribbon_period found;
    tdm_code code = tdm_ribbon_straighten(grid, field, input->strip->cell, &profile, error);
    if (code == TDM_OK)
        code = tdm_ribbon_period_find(&profile, &found, error);
    tdm_ribbon_profile_free(&profile);
    if (code != TDM_OK)
        return code;
    out->strands.period_mm = tdm_mm(input->strip, found.period);
    out->strands.period_strength = found.strength;
    out->strands.pattern = found.pattern;
    return TDM_OK;
}

tdm_code tdm_ribbons(const tdm_measure_input *input, const tdm_strand_field *field,
                     const tdm_strand_grid *grid, struct tdm_zone_reading *out, tdm_warnings *warnings,
                     tdm_error *error)
{
    tdm_ribbon_figures figures;
    tdm_run_table table = {0};
    tdm_code code = tdm_ribbon_runs(input, grid, &figures, error);
    if (code == TDM_OK)
        code = report_runs(input, &figures, out, warnings, error);
    if (code == TDM_OK && !figures.too_fine)
        code = look_across(input, field, grid, out, error);
    if (code == TDM_OK)
        code = tdm_ribbon_smooth(input->strip, grid, &table, error);
    if (code == TDM_OK)
        code = follow(input, field, grid, &table, out, error);
    tdm_run_table_free(&table);
    return code;
}
