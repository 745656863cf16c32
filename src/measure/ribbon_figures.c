/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/ribbon_figures.h"

#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <stdlib.h>

#include "base/fail.h"
#include "measure/ribbon_stats.h"
#include "measure/spread.h"

/* All choices. */
static const double finest_mm = 0.5; /* shorter runs and gaps are noise */
static const double least_px = 3;
static const double reach_mm = 4; /* along the strand, to either side */
enum { LEAST_RIBBONS = 3 };

tdm_code tdm_ribbon_smooth(const tdm_strip *strip, const tdm_strand_grid *grid, tdm_run_table *out,
                           tdm_error *error)
{
    double *smooth = malloc((grid->windows * grid->cols + 1) * sizeof *smooth);
    if (!smooth)
        return tdm_fail_memory(error, NULL);
    tdm_grid_smooth(grid, strip->cell, (size_t)(reach_mm / grid->window + 0.5), smooth);
    const tdm_code code = tdm_run_table_make(grid, smooth, strip->cell, finest_mm, out, error);
    free(smooth);
    return code;
}

/* A ribbon that isn't seen to both sides has no width of its own. */
static bool is_whole(const tdm_run *run)
{
    return !run->cut_left && !run->cut_right;
}

static tdm_code widths(const tdm_measure_input *input, const tdm_run_table *table, tdm_sample *samples,
                       tdm_ribbon_figures *out, tdm_error *error)
{
    size_t count = 0;
    for (size_t i = 0; i < table->first[table->windows]; i++) {
        const tdm_run *run = table->runs + i;
        const double width = tdm_run_width(run);
        if (is_whole(run))
            samples[count++] =
                (tdm_sample){width, width, tdm_block_at(input->columns, 0.5 * (run->left + run->right))};
    }
    if (count < LEAST_RIBBONS)
        return TDM_OK;
    tdm_samples_sort(samples, count);
    out->median = tdm_samples_quantile(samples, count, 0.5, NULL);
    out->p25 = tdm_samples_quantile(samples, count, 0.25, NULL);
    out->p75 = tdm_samples_quantile(samples, count, 0.75, NULL);
    return tdm_samples_spread(samples, count, 0.5, input->resampling, &out->median_sampling, error);
}

/* From middle to middle of neighbours between which nothing is hidden. */
static double spacing(const tdm_run *before, const tdm_run *run)
{
    const double slope = 0.5 * (before->slope + run->slope);
    return 0.5 * (run->left + run->right - before->left - before->right) * cos(atan(slope));
}

static void spacings(const tdm_run_table *table, double *values, tdm_ribbon_figures *out)
{
    for (size_t window = 0; window < table->windows; window++) {
        for (size_t i = table->first[window] + 1; i < table->first[window + 1]; i++) {
            const tdm_run *run = table->runs + i;
            if (!run->apart && is_whole(run) && is_whole(run - 1))
                values[out->gaps++] = spacing(run - 1, run);
        }
    }
    if (out->gaps < LEAST_RIBBONS)
        return;
    const double mean = gsl_stats_mean(values, 1, out->gaps);
    out->spacing_cv = gsl_stats_sd_m(values, 1, out->gaps, mean) / mean;
    out->spacing_median = tdm_quantile(values, out->gaps, 0.5);
}

/* Edges of ribbons, and width looked at, in each block. A ribbon that the zone's edge cuts shows one edge and
 * counts half: then the number in a strip is right on average whatever the ribbons' width. */
static void count_edges(const tdm_measure_input *input, const tdm_strand_grid *grid,
                        const tdm_run_table *table, double *edges, double *width)
{
    for (size_t i = 0; i < table->first[table->windows]; i++) {
        const tdm_run *run = table->runs + i;
        if (!run->cut_left)
            edges[tdm_block_at(input->columns, run->left)] += 1;
        if (!run->cut_right)
            edges[tdm_block_at(input->columns, run->right)] += 1;
    }
    for (size_t i = 0; i < grid->windows * grid->cols; i++) {
        const double across = ((double)(i % grid->cols) + 0.5) * input->strip->cell;
        if (isfinite(grid->light[i]))
            width[tdm_block_at(input->columns, across)] += input->strip->cell * cos(atan(grid->slope[i]));
    }
}

static double per_100(const double *edges, const double *width, size_t blocks, const uint16_t *times)
{
    double number = 0, seen = 0;
    for (size_t block = 0; block < blocks; block++) {
        const double drawn = times ? times[block] : 1;
        number += drawn * 0.5 * edges[block];
        seen += drawn * width[block];
    }
    return seen > 0 ? 100 * number / seen : NAN;
}

static tdm_code number(const tdm_measure_input *input, const tdm_strand_grid *grid,
                       const tdm_run_table *table, tdm_ribbon_figures *out, tdm_error *error)
{
    const tdm_resampling *resampling = input->resampling;
    const size_t blocks = input->columns->blocks;
    double *sums = calloc(2 * blocks + resampling->resamples, sizeof *sums);
    if (!sums)
        return tdm_fail_memory(error, NULL);
    double *drawn = sums + 2 * blocks;
    size_t found = 0;
    count_edges(input, grid, table, sums, sums + blocks);
    out->per_100mm = per_100(sums, sums + blocks, blocks, NULL);
    for (size_t i = 0; i < resampling->resamples; i++) {
        const double value = per_100(sums, sums + blocks, blocks, resampling->times + i * blocks);
        if (isfinite(value))
            drawn[found++] = value;
    }
    out->per_100mm_sampling = tdm_half_range(drawn, found) / 2;
    free(sums);
    return TDM_OK;
}

static void to_nothing(tdm_ribbon_figures *out)
{
    out->median = out->p25 = out->p75 = out->median_sampling = NAN;
    out->spacing_median = out->spacing_cv = NAN;
    out->per_100mm = out->per_100mm_sampling = NAN;
}

/* Without a scale lengths mean nothing, but ratios do. */
static void to_mm(const tdm_strip *strip, tdm_ribbon_figures *out)
{
    const double spacing_cv = out->spacing_cv;
    if (out->median / strip->cell * strip->cell_px < least_px) {
        to_nothing(out);
        out->too_fine = true;
    } else if (!strip->scaled) {
        to_nothing(out);
        out->spacing_cv = spacing_cv;
    }
}

static tdm_code count_all(const tdm_measure_input *input, const tdm_strand_grid *grid,
                          const tdm_run_table *table, tdm_ribbon_figures *out, tdm_error *error)
{
    const size_t count = table->first[table->windows] + 1;
    tdm_sample *samples = malloc(count * sizeof *samples);
    double *values = malloc(count * sizeof *values);
    *out = (tdm_ribbon_figures){0};
    to_nothing(out);
    tdm_code code =
        samples && values ? widths(input, table, samples, out, error) : tdm_fail_memory(error, NULL);
    if (code == TDM_OK) {
        spacings(table, values, out);
        code = number(input, grid, table, out, error);
    }
    free(samples);
    free(values);
    if (code == TDM_OK)
        to_mm(input->strip, out);
    return code;
}

tdm_code tdm_ribbon_runs(const tdm_measure_input *input, const tdm_strand_grid *grid, tdm_ribbon_figures *out,
                         tdm_error *error)
{
    tdm_run_table table = {0};
    tdm_code code = tdm_run_table_make(grid, grid->light, input->strip->cell, finest_mm, &table, error);
    if (code == TDM_OK)
        code = count_all(input, grid, &table, out, error);
    tdm_run_table_free(&table);
    return code;
}
