/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The regrowth line column by column: how wide at one place, how staggered, over how much of the width, on
 * what course. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "measure/line_columns.h"
#include "measure/line_course.h"
#include "measure/line_spots.h"
#include "measure/measure.h"
#include "measure/spread.h"
#include "measure/stagger.h"

enum { LEAST_COLUMNS = 4 };
static const double noise_known = 0.5; /* the columns' noise as estimated, relative standard uncertainty */

static const double least_curve = 2;    /* mm: less isn't worth a word; a choice */
static const double broken_from = 0.25; /* of the width in gaps: a choice */

typedef double (*statistic)(double *values, size_t count);

static double median(double *values, size_t count)
{
    return tdm_quantile(values, count, 0.5);
}

/* A statistic over the columns, and over resampled columns: resamples results. */
static tdm_code over_columns(const tdm_measure_input *input, const double *values, size_t count, statistic of,
                             double *own, double *results, tdm_error *error)
{
    const size_t resamples = input->resampling->resamples;
    tdm_resampling draws = {0};
    tdm_code code = tdm_resampling_make(resamples, count, 2, &draws, error);
    if (code != TDM_OK)
        return code;
    double *some = malloc(count * sizeof *some);
    if (some) {
        memcpy(some, values, count * sizeof *some);
        *own = of(some, count);
        for (size_t i = 0; i < resamples; i++) {
            size_t next = 0;
            for (size_t k = 0; k < count; k++) {
                for (unsigned times = draws.times[i * count + k]; times > 0; times--)
                    some[next++] = values[k];
            }
            results[i] = of(some, count);
        }
    } else {
        code = tdm_fail_memory(error, NULL);
    }
    free(some);
    tdm_resampling_free(&draws);
    return code;
}

/* Gloss and light widen the line at one place as they do the whole; they don't scatter its places. */
static void put_width(const tdm_measure_input *input, double width, double *results,
                      struct tdm_zone_reading *out)
{
    const double sampling = tdm_half_range(results, input->resampling->resamples) / 2;
    tdm_budget parts = tdm_length_budget(input->sources, width, sampling);
    const tdm_budget whole = tdm_budget_of(out, &out->gradient.width_mm);
    const double share = width / out->gradient.width_mm.value;
    parts.part[TDM_PART_GLOSS] = share * whole.part[TDM_PART_GLOSS];
    parts.part[TDM_PART_LIGHT] = share * whole.part[TDM_PART_LIGHT];
    tdm_put(out, &out->demarcation.local_width_mm, width, &parts);
}

/* What is left of a spread when the columns' own noise is taken off. */
static double without(double spread, double noise_variance)
{
    return sqrt(fmax(spread * spread - noise_variance, 0));
}

static void put_stagger(const tdm_measure_input *input, double spread, double noise_variance, double *results,
                        struct tdm_zone_reading *out)
{
    const size_t resamples = input->resampling->resamples;
    for (size_t i = 0; i < resamples; i++)
        results[i] = without(results[i], noise_variance);
    const double stagger = without(spread, noise_variance);
    tdm_budget parts = tdm_length_budget(input->sources, stagger, tdm_half_range(results, resamples) / 2);
    parts.part[TDM_PART_METHOD] = 0.5 * (without(spread, (1 - noise_known) * noise_variance) -
                                         without(spread, (1 + noise_known) * noise_variance));
    tdm_put(out, &out->demarcation.stagger_mm, stagger, &parts);
}

static double noise_of(const tdm_line *found, double *scratch)
{
    size_t count = 0;
    for (size_t i = 0; i < found->count; i++) {
        if (isfinite(found->variance[i]))
            scratch[count++] = found->variance[i];
    }
    return count > 0 ? tdm_quantile(scratch, count, 0.5) : 0;
}

static double gap_share(const tdm_line *found)
{
    double flat = 0, known = 0;
    for (size_t i = 0; i < found->columns; i++) {
        flat += found->state[i] == TDM_COLUMN_FLAT;
        known += found->state[i] == TDM_COLUMN_FLAT || found->state[i] == TDM_COLUMN_STEP;
    }
    return known > 0 ? flat / known : 0;
}

/* A slant is a ratio of lengths: the scale isn't in it. */
static void put_course(const tdm_line *found, const tdm_stagger_fit *fit, const double *residual,
                       struct tdm_zone_reading *out)
{
    const tdm_budget parts = {.part = {[TDM_PART_SAMPLING] = 100 * fit->slope_u}};
    tdm_zigzag zigzag;
    tdm_put(out, &out->demarcation.slope, 100 * fit->slope, &parts);
    out->demarcation.course = "straight";
    const double sagitta = fabs(tdm_stagger_sagitta(fit, found->across[0], found->across[found->count - 1]));
    if (sagitta >= least_curve) {
        out->demarcation.course = "curved";
        out->demarcation.course_mm = sagitta;
    }
    if (tdm_line_zigzag(found->across, residual, found->count, found->column, &zigzag)) {
        out->demarcation.course = "zigzag";
        out->demarcation.course_mm = zigzag.amplitude;
        out->demarcation.zigzag_period_mm = zigzag.period;
    }
    if (gap_share(found) >= broken_from)
        out->demarcation.course = "broken";
}

static tdm_code put_spots(const tdm_measure_input *input, const tdm_line *found, const tdm_stagger_fit *fit,
                          struct tdm_zone_reading *out, tdm_error *error)
{
    const double width = out->demarcation.local_width_mm.value;
    tdm_code code = tdm_line_gaps(input, found, fit, width, &out->demarcation.gaps, error);
    if (code == TDM_OK)
        code = tdm_line_bleeds(input, found, fit, width, &out->demarcation.bleeds, error);
    if (code != TDM_OK)
        return code;
    out->demarcation.gap_count = (double)out->demarcation.gaps.count;
    out->demarcation.bleed_count = (double)out->demarcation.bleeds.count;
    return TDM_OK;
}

static tdm_code summarise(const tdm_measure_input *input, const tdm_line *found, struct tdm_zone_reading *out,
                          tdm_error *error)
{
    double *residual = malloc(found->count * sizeof *residual);
    double *results = malloc(input->resampling->resamples * sizeof *results);
    double own = NAN;
    tdm_stagger_fit fit;
    tdm_code code = residual && results ? TDM_OK : tdm_fail_memory(error, NULL);
    if (code == TDM_OK)
        code = over_columns(input, found->width, found->count, median, &own, results, error);
    if (code == TDM_OK)
        put_width(input, own, results, out);
    const double noise = code == TDM_OK ? noise_of(found, residual) : 0;
    if (code == TDM_OK && tdm_stagger(found->across, found->centre, found->count, residual, &fit)) {
        put_course(found, &fit, residual, out);
        code = over_columns(input, residual, found->count, tdm_robust_sd, &own, results, error);
        if (code == TDM_OK)
            put_stagger(input, own, noise, results, out);
        if (code == TDM_OK)
            code = put_spots(input, found, &fit, out, error);
    }
    free(residual);
    free(results);
    return code;
}

static tdm_code measure_line(const tdm_measure_input *input, struct tdm_zone_reading *out, tdm_error *error)
{
    tdm_line found = {0};
    tdm_code code = tdm_line_make(input, &found, error);
    if (code != TDM_OK)
        return code;
    if (found.tried > 0)
        out->demarcation.span = (double)found.count / (double)found.tried;
    if (found.count >= LEAST_COLUMNS && input->strip->scaled)
        code = summarise(input, &found, out, error);
    tdm_line_free(&found);
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
