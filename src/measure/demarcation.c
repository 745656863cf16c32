/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The regrowth line column by column: how wide at one place, how staggered, over how much of the width. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "colour/lab.h"
#include "measure/measure.h"
#include "measure/spread.h"
#include "measure/stagger.h"

static const double column_mm = 4;    /* the definition asks for 3 to 5 mm */
static const double reach_widths = 2; /* a column is fitted within this many widths of the line's centre … */
static const double least_reach_mm = 30; /* … and at least this far */
static const double sure = 3;            /* standard errors that a column's step must stand out by */
static const double least_fill = 0.5;    /* a column needs cells in at least half of its bins */
enum { LEAST_COLUMNS = 4 };

typedef struct line {
    double *across, *centre, *width; /* of the columns that have a step */
    size_t count;
    size_t tried;
} line;

static size_t column_course(const tdm_measure_input *input, const tdm_columns *columns, size_t block,
                            double from, double to, double *value, double *weight)
{
    size_t used = 0;
    for (size_t i = 0; i < columns->bins; i++) {
        const size_t at = i * columns->blocks + block;
        const double along = input->fall->along[i];
        weight[i] = 0;
        value[i] = 0;
        if (columns->cells[at] <= 0 || along < from || along > to)
            continue;
        double xyz[3], lab[3];
        for (size_t k = 0; k < 3; k++)
            xyz[k] = columns->sum[3 * at + k] / columns->cells[at];
        tdm_xyz_to_lab(xyz, lab);
        value[i] = tdm_fall_project(input->fall, lab);
        weight[i] = 1;
        used++;
    }
    return used;
}

/* Standard error of a step of height h between n effective samples on its two sides: 2 s / sqrt(n). */
static bool stands_out(const tdm_shape_fit *fit, const tdm_shape_fit *whole, size_t used)
{
    const double error = 2 * sqrt(fit->rss / (double)used) / sqrt(fit->effective);
    const int step = tdm_fall_main_step(whole);
    return fit->step[0] * whole->step[step] > 0 && fabs(fit->step[0]) > fmax(sure * error, TDM_JND_LAB);
}

static void fit_column(const tdm_measure_input *input, const tdm_columns *columns, size_t block,
                       double *value, double *weight, line *out)
{
    const tdm_shape_fit *whole = &input->fall->fit;
    const int step = tdm_fall_main_step(whole);
    const double centre = whole->centre[step];
    const double reach = fmax(reach_widths * tdm_fall_width(input->fall), least_reach_mm);
    double to = centre + reach;
    if (whole->shape == TDM_SHAPE_BAND) /* keep the band's far side out */
        to = fmin(to, 0.5 * (centre + whole->centre[1 - step]));
    const size_t used = column_course(input, columns, block, centre - reach, to, value, weight);
    const size_t expected =
        (size_t)((fmin(to, input->fall->length) - fmax(centre - reach, 0)) / columns->bin);
    if ((double)used < least_fill * (double)expected || used < 16)
        return;
    out->tried++;
    const tdm_course course = {.along = input->fall->along,
                               .value = value,
                               .weight = weight,
                               .count = columns->bins,
                               .length = input->fall->length};
    tdm_shape_fit fit;
    if (!tdm_shape_transition(&course, fmax(centre - reach, 0), fmin(to, input->fall->length), &fit))
        return;
    if (!stands_out(&fit, whole, used) || fit.centre[0] < centre - reach || fit.centre[0] > to)
        return;
    out->across[out->count] = ((double)block + 0.5) * columns->block;
    out->centre[out->count] = fit.centre[0];
    out->width[out->count] = TDM_RISE_PER_SIGMA * fit.sigma[0];
    out->count++;
}

static tdm_code fit_columns(const tdm_measure_input *input, const tdm_columns *columns, line *out,
                            tdm_error *error)
{
    double *value = calloc(columns->bins, sizeof *value), *weight = calloc(columns->bins, sizeof *weight);
    out->across = calloc(columns->blocks, sizeof *out->across);
    out->centre = calloc(columns->blocks, sizeof *out->centre);
    out->width = calloc(columns->blocks, sizeof *out->width);
    const bool have = value && weight && out->across && out->centre && out->width;
    for (size_t block = 0; have && block < columns->blocks; block++)
        fit_column(input, columns, block, value, weight, out);
    free(value);
    free(weight);
    return have ? TDM_OK : tdm_fail_memory(error, NULL);
}

typedef double (*statistic)(double *values, size_t count);

static double median(double *values, size_t count)
{
    return tdm_quantile(values, count, 0.5);
}

/* A statistic over the columns, and its spread over resampled columns. */
static tdm_code over_columns(const tdm_measure_input *input, const double *values, size_t count, statistic of,
                             tdm_value *out, tdm_error *error)
{
    const size_t resamples = input->resampling->resamples;
    tdm_resampling draws = {0};
    tdm_code code = tdm_resampling_make(resamples, count, 2, &draws, error);
    if (code != TDM_OK)
        return code;
    double *some = malloc(count * sizeof *some), *results = malloc(resamples * sizeof *results);
    if (some && results) {
        memcpy(some, values, count * sizeof *some);
        out->value = of(some, count);
        for (size_t i = 0; i < resamples; i++) {
            size_t next = 0;
            for (size_t k = 0; k < count; k++) {
                for (unsigned times = draws.times[i * count + k]; times > 0; times--)
                    some[next++] = values[k];
            }
            results[i] = of(some, count);
        }
        out->u = tdm_half_range(results, resamples);
    } else {
        code = tdm_fail_memory(error, NULL);
    }
    free(some);
    free(results);
    tdm_resampling_free(&draws);
    return code;
}

/* Gloss and light widen the line at one place as they do the whole; they don't scatter its places. */
static void put_width(const tdm_measure_input *input, struct tdm_zone_reading *out, const tdm_value *found)
{
    tdm_budget parts = tdm_length_budget(input->sources, found->value, found->u / 2);
    const tdm_budget whole = tdm_budget_of(out, &out->gradient.width_mm);
    const double share = found->value / out->gradient.width_mm.value;
    parts.part[TDM_PART_GLOSS] = share * whole.part[TDM_PART_GLOSS];
    parts.part[TDM_PART_LIGHT] = share * whole.part[TDM_PART_LIGHT];
    tdm_put(out, &out->demarcation.local_width_mm, found->value, &parts);
}

static tdm_code summarise(const tdm_measure_input *input, const line *found, struct tdm_zone_reading *out,
                          tdm_error *error)
{
    double *residual = malloc(found->count * sizeof *residual);
    if (!residual)
        return tdm_fail_memory(error, NULL);
    size_t terms = 0;
    tdm_value width, stagger;
    tdm_code code = over_columns(input, found->width, found->count, median, &width, error);
    if (code == TDM_OK)
        put_width(input, out, &width);
    if (code == TDM_OK && tdm_stagger(found->across, found->centre, found->count, residual, &terms)) {
        code = over_columns(input, residual, found->count, tdm_robust_sd, &stagger, error);
        const double freedom = sqrt((double)found->count / (double)(found->count - terms));
        const tdm_budget parts =
            tdm_length_budget(input->sources, freedom * stagger.value, freedom * stagger.u / 2);
        tdm_put(out, &out->demarcation.stagger_mm, freedom * stagger.value, &parts);
    }
    free(residual);
    return code;
}

static tdm_code measure_line(const tdm_measure_input *input, struct tdm_zone_reading *out, tdm_error *error)
{
    tdm_columns columns = {0};
    const size_t cells = (size_t)fmax(column_mm / input->strip->cell + 0.5, 1);
    tdm_code code = tdm_columns_make(input->strip, cells, &columns, error);
    if (code != TDM_OK)
        return code;
    line found = {0};
    code = fit_columns(input, &columns, &found, error);
    if (code == TDM_OK && found.tried > 0)
        out->demarcation.span = (double)found.count / (double)found.tried;
    if (code == TDM_OK && found.count >= LEAST_COLUMNS && input->strip->scaled)
        code = summarise(input, &found, out, error);
    free(found.across);
    free(found.centre);
    free(found.width);
    tdm_columns_free(&columns);
    return code;
}

static tdm_code compute(const tdm_measure_input *input, struct tdm_zone_reading *out, tdm_warnings *warnings,
                        tdm_error *error)
{
    (void)warnings;
    const tdm_shape shape = input->fall->fit.shape;
    if (shape == TDM_SHAPE_TRANSITION || shape == TDM_SHAPE_BAND)
        return measure_line(input, out, error);
    out->demarcation.span = 0; /* no change of colour, so no line */
    return TDM_OK;
}

const tdm_measure tdm_measure_demarcation = {.name = "demarcation", .compute = compute};
