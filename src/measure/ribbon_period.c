/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/ribbon_period.h"

#include <math.h>
#include <stdlib.h>

#include "base/fail.h"
#include "measure/periodogram.h"

/* All choices. */
static const double row_mm = 8;        /* from one row looked at to the next; nearer ones are alike */
static const double least_periods = 3; /* that the width must hold */
static const double shortest_mm = 1.5;
static const double most_spread = 0.3; /* of the spacings of a regular weave, over their mean */
enum { STEPS = 4 /* a frequency's own width is so many steps */, LEAST_ACROSS = 4, LEAST_GAPS = 6 };

typedef struct rows {
    const tdm_strand_grid *grid;
    const double *light;
    double cell;
    size_t every;           /* windows from row to row */
    double *across, *value; /* of one row, without what isn't known */
} rows;

/* One row's known places, their number, and the mean. */
static size_t take_row(rows *of, size_t window, double *mean)
{
    size_t count = 0;
    double sum = 0;
    for (size_t col = 0; col < of->grid->cols; col++) {
        const double light = of->light[window * of->grid->cols + col];
        if (!isfinite(light))
            continue;
        of->across[count] = ((double)col + 0.5) * of->cell;
        of->value[count++] = light;
        sum += light;
    }
    *mean = count ? sum / (double)count : 0;
    return count;
}

/* Adds each row's share at every frequency; rows that are all light or all dark have none. */
static void add_shares(rows *of, double from, double step, size_t frequencies, double *shares)
{
    double used = 0;
    for (size_t window = of->every / 2; window < of->grid->windows; window += of->every) {
        double mean = 0;
        const size_t count = take_row(of, window, &mean);
        if (2 * count < of->grid->cols)
            continue;
        used += 1;
        for (size_t i = 0; i < frequencies; i++)
            shares[i] += tdm_wave_share(of->across, of->value, count, mean, from + (double)i * step, NULL);
    }
    for (size_t i = 0; used > 0 && i < frequencies; i++)
        shares[i] /= used;
}

static double mean_cosine(const tdm_strand_grid *grid)
{
    double sum = 0;
    for (size_t i = 0; i < grid->windows * grid->cols; i++)
        sum += cos(atan(grid->slope[i]));
    return sum / (double)(grid->windows * grid->cols);
}

static void strongest(rows *of, double from, double step, size_t frequencies, double *shares,
                      tdm_ribbon_period *out)
{
    add_shares(of, from, step, frequencies, shares);
    size_t best = 0;
    for (size_t i = 1; i < frequencies; i++) {
        if (shares[i] > shares[best])
            best = i;
    }
    if (shares[best] > 0) {
        out->strength = fmin(shares[best], 1);
        out->period = mean_cosine(of->grid) / (from + (double)best * step);
    }
}

static tdm_code find_period(const tdm_strand_grid *grid, const double *light, double cell,
                            tdm_ribbon_period *out, tdm_error *error)
{
    const double width = (double)grid->cols * cell;
    const double from = least_periods / width, step = 1 / (STEPS * width);
    const double to = 1 / fmax(shortest_mm, 3 * cell);
    if (from >= to)
        return TDM_OK;
    const size_t frequencies = (size_t)((to - from) / step) + 1;
    rows of = {.grid = grid, .light = light, .cell = cell};
    of.every = (size_t)fmax(row_mm / grid->window + 0.5, 1);
    if (of.every > grid->windows)
        of.every = grid->windows;
    of.across = malloc(2 * grid->cols * sizeof *of.across);
    double *shares = calloc(frequencies, sizeof *shares);
    tdm_code code = of.across && shares ? TDM_OK : tdm_fail_memory(error, NULL);
    if (code == TDM_OK) {
        of.value = of.across + grid->cols;
        strongest(&of, from, step, frequencies, shares, out);
    }
    free(of.across);
    free(shares);
    return code;
}

static double middle(const tdm_run *run)
{
    return 0.5 * (run->left + run->right);
}

/* Spacings' coefficient of variation within each window, by the mean of all: ribbons that come nearer further
 * down do so together. */
static void find_spread(const tdm_run_table *table, tdm_ribbon_period *out)
{
    double sum = 0, squares = 0, count = 0;
    for (size_t window = 0; window < table->windows; window++) {
        for (size_t i = table->first[window] + 1; i < table->first[window + 1]; i++) {
            const tdm_run *run = table->runs + i;
            if (run->apart)
                continue;
            const double spacing = middle(run) - middle(run - 1);
            sum += spacing;
            squares += spacing * spacing;
            count += 1;
        }
    }
    if (count < 2)
        return;
    const double mean = sum / count;
    out->spacing_cv = sqrt(fmax(squares / count - mean * mean, 0)) / mean;
    out->ribbons = (double)table->first[table->windows] / (double)table->windows;
}

tdm_code tdm_ribbon_period_find(const tdm_strand_grid *grid, const double *light, const tdm_run_table *table,
                                double cell, tdm_ribbon_period *out, tdm_error *error)
{
    *out = (tdm_ribbon_period){.period = NAN, .strength = NAN, .spacing_cv = NAN};
    const tdm_code code = find_period(grid, light, cell, out, error);
    if (code != TDM_OK)
        return code;
    find_spread(table, out);
    if (out->ribbons >= LEAST_ACROSS && isfinite(out->spacing_cv))
        out->pattern = out->spacing_cv < most_spread ? "regular" : "random";
    return TDM_OK;
}
