/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/ribbons.h"

#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <stdlib.h>

#include "base/fail.h"
#include "measure/spread.h"

static const double finest_mm = 0.5; /* shorter runs and gaps are noise */
static const double least_px = 3;
enum { LEAST_RIBBONS = 3 };

/* One run of light columns, [from, to). */
typedef struct run {
    size_t from, to;
} run;

static bool is_light(double probability)
{
    return probability > 0.5; /* false for NaN */
}

/* Runs in one row of probabilities, gaps under `least` columns closed and shorter runs left out. */
static size_t find_runs(const double *light, size_t cols, size_t least, run *runs)
{
    size_t count = 0;
    for (size_t col = 0; col < cols; col++) {
        if (!is_light(light[col]))
            continue;
        const size_t from = col;
        while (col < cols && is_light(light[col]))
            col++;
        if (count > 0 && from - runs[count - 1].to < least)
            runs[count - 1].to = col;
        else
            runs[count++] = (run){from, col};
    }
    size_t kept = 0;
    for (size_t i = 0; i < count; i++) {
        if (runs[i].to - runs[i].from >= least)
            runs[kept++] = runs[i];
    }
    return kept;
}

typedef struct gathered {
    double *widths, *spacings;
    size_t width_count, spacing_count;
    size_t room; /* of each */
} gathered;

/* A ribbon cut by the zone's edge has no width of its own. */
static void gather(const run *runs, size_t count, size_t cols, gathered *out)
{
    for (size_t i = 0; i < count; i++) {
        if (runs[i].from > 0 && runs[i].to < cols && out->width_count < out->room)
            out->widths[out->width_count++] = (double)(runs[i].to - runs[i].from);
        if (i > 0 && out->spacing_count < out->room)
            out->spacings[out->spacing_count++] =
                0.5 * (double)(runs[i].from + runs[i].to - runs[i - 1].from - runs[i - 1].to);
    }
}

static void probabilities(const tdm_strand_grid *grid, const tdm_mixture *mixture, size_t window,
                          double *light)
{
    for (size_t col = 0; col < grid->cols; col++) {
        const double score = grid->score[window * grid->cols + col];
        light[col] = isfinite(score) ? tdm_mixture_posterior(mixture, score) : NAN;
    }
}

/* Mean probability of each column over all windows. */
static void column_probabilities(const tdm_strand_grid *grid, const tdm_mixture *mixture, double *light)
{
    for (size_t col = 0; col < grid->cols; col++) {
        double sum = 0, count = 0;
        for (size_t window = 0; window < grid->windows; window++) {
            const double score = grid->score[window * grid->cols + col];
            if (isfinite(score)) {
                sum += tdm_mixture_posterior(mixture, score);
                count += 1;
            }
        }
        light[col] = count > 0 ? sum / count : NAN;
    }
}

/* Mean L* of a run's used cells over rows [from, to); NaN for none. */
static double run_lightness(const tdm_strip *strip, run columns, size_t from, size_t to)
{
    double sum = 0, cells = 0;
    for (size_t row = from; row < to && row < strip->rows; row++) {
        for (size_t col = columns.from; col < columns.to; col++) {
            const size_t cell = row * strip->cols + col;
            if (strip->use[cell]) {
                sum += (double)strip->lab[3 * cell];
                cells += 1;
            }
        }
    }
    return cells > 0 ? sum / cells : NAN;
}

/* Where a ribbon first gets half-way from its lightness at the root to that below the line; 0 where it is
 * light from the root on. */
static double ribbon_start(const tdm_measure_input *input, const tdm_strand_grid *grid, run columns,
                           double contrast)
{
    const tdm_strip *strip = input->strip;
    const size_t root =
        tdm_root_bins(input->columns, strip->length) * (size_t)(input->columns->bin / strip->cell + 0.5);
    const size_t below = (size_t)(grid->from / strip->cell);
    const size_t step = (size_t)fmax(2 / strip->cell + 0.5, 1); /* 2 mm at a time */
    const double dark = run_lightness(strip, columns, 0, root);
    const double light = run_lightness(strip, columns, below, strip->rows);
    if (!isfinite(dark) || !isfinite(light))
        return NAN;
    if (light - dark < 0.5 * contrast)
        return 0;
    for (size_t row = 0; row + step <= strip->rows; row += step) {
        if (run_lightness(strip, columns, row, row + step) >= 0.5 * (dark + light))
            return ((double)row + 0.5 * (double)step) * strip->cell;
    }
    return NAN;
}

static tdm_code starts(const tdm_measure_input *input, const tdm_strand_grid *grid,
                       const tdm_mixture *mixture, double *light, run *runs, size_t least,
                       struct tdm_zone_reading *out, tdm_error *error)
{
    column_probabilities(grid, mixture, light);
    const size_t count = find_runs(light, grid->cols, least, runs);
    double *start = malloc((count + 1) * sizeof *start);
    if (!start)
        return tdm_fail_memory(error, NULL);
    size_t found = 0;
    for (size_t i = 0; i < count; i++) {
        const double place = ribbon_start(input, grid, runs[i], out->strands.contrast_lstar.value);
        if (isfinite(place))
            start[found++] = place;
    }
    if (found >= LEAST_RIBBONS) {
        out->strands.start_median = tdm_from_root(input->strip, tdm_quantile(start, found, 0.5));
        out->strands.start_p25 = tdm_from_root(input->strip, tdm_quantile(start, found, 0.25));
        out->strands.start_p75 = tdm_from_root(input->strip, tdm_quantile(start, found, 0.75));
    }
    free(start);
    return TDM_OK;
}

/* Width below which the ribbons hold share q of all light hair: a median by number would count the slivers
 * that a wide ribbon frays into as so many ribbons. Widths are sorted. */
static double weighted_quantile(const double *widths, size_t count, double q)
{
    double total = 0, below = 0;
    for (size_t i = 0; i < count; i++)
        total += widths[i];
    for (size_t i = 0; i < count; i++) {
        below += widths[i];
        if (below >= q * total)
            return widths[i];
    }
    return NAN;
}

static void report_runs(const tdm_strip *strip, gathered *all, struct tdm_zone_reading *out)
{
    if (all->width_count >= LEAST_RIBBONS) {
        gsl_sort(all->widths, 1, all->width_count);
        out->strands.ribbon_median =
            tdm_mm(strip, strip->cell * weighted_quantile(all->widths, all->width_count, 0.5));
        out->strands.ribbon_p25 =
            tdm_mm(strip, strip->cell * weighted_quantile(all->widths, all->width_count, 0.25));
        out->strands.ribbon_p75 =
            tdm_mm(strip, strip->cell * weighted_quantile(all->widths, all->width_count, 0.75));
    }
    if (all->spacing_count >= LEAST_RIBBONS) {
        const double mean = gsl_stats_mean(all->spacings, 1, all->spacing_count);
        out->strands.spacing_cv = gsl_stats_sd_m(all->spacings, 1, all->spacing_count, mean) / mean;
        out->strands.spacing_median =
            tdm_mm(strip, strip->cell * tdm_quantile(all->spacings, all->spacing_count, 0.5));
    }
}

static tdm_code forget_too_fine(const tdm_measure_input *input, struct tdm_zone_reading *out,
                                tdm_warnings *warnings, tdm_error *error)
{
    const double px = out->strands.ribbon_median / input->strip->cell * input->strip->cell_px;
    if (!isfinite(px) || px >= least_px)
        return TDM_OK;
    out->strands.ribbon_median = out->strands.ribbon_p25 = out->strands.ribbon_p75 = NAN;
    out->strands.spacing_median = out->strands.spacing_cv = NAN;
    return tdm_warn(
        warnings, error, "ribbons-too-fine", input->zone,
        "the light ribbons are under 3 pixels wide, too fine for this picture; move closer or use a larger "
        "picture");
}

tdm_code tdm_ribbons(const tdm_measure_input *input, const tdm_strand_grid *grid, const tdm_mixture *mixture,
                     struct tdm_zone_reading *out, tdm_warnings *warnings, tdm_error *error)
{
    const size_t least = (size_t)fmax(finest_mm / input->strip->cell + 0.5, 1);
    gathered all = {.room = grid->windows * grid->cols};
    all.widths = malloc(all.room * sizeof *all.widths);
    all.spacings = malloc(all.room * sizeof *all.spacings);
    double *light = malloc(grid->cols * sizeof *light);
    run *runs = malloc((grid->cols + 1) * sizeof *runs);
    tdm_code code = all.widths && all.spacings && light && runs ? TDM_OK : tdm_fail_memory(error, NULL);
    for (size_t window = 0; code == TDM_OK && window < grid->windows; window++) {
        probabilities(grid, mixture, window, light);
        gather(runs, find_runs(light, grid->cols, least, runs), grid->cols, &all);
    }
    if (code == TDM_OK) {
        report_runs(input->strip, &all, out);
        code = starts(input, grid, mixture, light, runs, least, out, error);
    }
    if (code == TDM_OK)
        code = forget_too_fine(input, out, warnings, error);
    free(all.widths);
    free(all.spacings);
    free(light);
    free(runs);
    return code;
}
