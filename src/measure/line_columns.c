/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/line_columns.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "colour/lab.h"
#include "measure/line_axis.h"
#include "measure/line_error.h"
#include "measure/matte.h"
#include "measure/spread.h"

static const double column_mm = 4;    /* the definition asks for 3 to 5 mm */
static const double reach_widths = 2; /* a column is fitted within this many widths of the line's centre … */
static const double least_reach_mm = 30;   /* … and at least this far */
static const double sure = 3;              /* standard errors that a column's step must stand out by */
static const double least_fill = 0.5;      /* a column needs cells in at least half of its bins */
static const double flat_share = 0.5;      /* of the usual step: a column that surely has less has no line */
static const double small_share = 1.0 / 3; /* of the usual step: less is no line */
enum { LEAST_BINS = 16 };

typedef struct work {
    double *value, *weight; /* bins: the column at hand */
    double from, to;        /* stretch along the fall */
    tdm_line_axis axis;
} work;

static double most(double a, double b)
{
    return a > b ? a : b;
}

static size_t column_course(const tdm_measure_input *input, const tdm_columns *columns, size_t block,
                            const work *at)
{
    size_t used = 0;
    for (size_t i = 0; i < columns->bins; i++) {
        const size_t cell = i * columns->blocks + block;
        const double along = input->fall->along[i];
        at->weight[i] = 0;
        at->value[i] = 0;
        if (columns->cells[cell] <= 0 || along < at->from || along > at->to)
            continue;
        double xyz[3], lab[3];
        for (size_t k = 0; k < 3; k++)
            xyz[k] = columns->sum[3 * cell + k] / columns->cells[cell];
        tdm_matte_colour(xyz, input->fall->gloss[i], input->fall->light[i], xyz);
        tdm_xyz_to_lab(xyz, lab);
        at->value[i] = tdm_line_axis_value(&at->axis, lab);
        at->weight[i] = 1;
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

static tdm_course course_of(const tdm_measure_input *input, const tdm_columns *columns, const work *at)
{
    return (tdm_course){.along = input->fall->along,
                        .value = at->value,
                        .weight = at->weight,
                        .count = columns->bins,
                        .length = input->fall->length};
}

static bool enough(const tdm_measure_input *input, const tdm_columns *columns, const work *at, size_t used)
{
    const double there = fmin(at->to, input->fall->length) - most(at->from, 0);
    const size_t expected = (size_t)(there / columns->bin);
    return (double)used >= least_fill * (double)expected && used >= LEAST_BINS;
}

static void fit_column(const tdm_measure_input *input, const tdm_columns *columns, size_t block,
                       const work *at, tdm_line *out)
{
    const size_t used = column_course(input, columns, block, at);
    if (!enough(input, columns, at, used))
        return;
    out->tried++;
    out->state[block] = TDM_COLUMN_UNSURE;
    const tdm_course course = course_of(input, columns, at);
    tdm_shape_fit fit;
    if (!tdm_shape_transition(&course, most(at->from, 0), fmin(at->to, input->fall->length), &fit))
        return;
    if (!stands_out(&fit, &input->fall->fit, used) || fit.centre[0] < at->from || fit.centre[0] > at->to)
        return;
    out->state[block] = TDM_COLUMN_STEP;
    out->across[out->count] = tdm_line_across(out, block);
    out->centre[out->count] = fit.centre[0];
    out->width[out->count] = TDM_RISE_PER_SIGMA * fit.sigma[0];
    out->step[out->count] = fit.step[0];
    out->variance[out->count] = tdm_line_variance(&course, &fit);
    out->count++;
}

/* A column that shows no step may be too noisy for one. It is flat where a line of usual width that lay where
 * the whole has it would surely show. */
static void judge_flat(const tdm_measure_input *input, const tdm_columns *columns, double usual_step,
                       double usual_width, const work *at, tdm_line *out)
{
    const tdm_shape_fit *whole = &input->fall->fit;
    for (size_t block = 0; block < columns->blocks; block++) {
        if (out->state[block] != TDM_COLUMN_UNSURE)
            continue;
        const size_t used = column_course(input, columns, block, at);
        const tdm_course course = course_of(input, columns, at);
        tdm_shape_fit fit = {.shape = TDM_SHAPE_TRANSITION,
                             .centre = {whole->centre[tdm_fall_main_step(whole)]},
                             .sigma = {usual_width / TDM_RISE_PER_SIGMA}};
        double height = 0, error = 0;
        if (used >= LEAST_BINS && tdm_line_height(&course, &fit, &height, &error) &&
            height / usual_step + 2 * error / fabs(usual_step) < flat_share)
            out->state[block] = TDM_COLUMN_FLAT;
    }
}

/* A small step beside many large ones is texture, not the line. */
static void drop_small(double usual_step, tdm_line *out)
{
    size_t kept = 0, next = 0;
    for (size_t block = 0; block < out->columns; block++) {
        if (out->state[block] != TDM_COLUMN_STEP)
            continue;
        const size_t i = next++;
        if (fabs(out->step[i]) < small_share * fabs(usual_step)) {
            out->state[block] = TDM_COLUMN_UNSURE;
            continue;
        }
        out->across[kept] = out->across[i];
        out->centre[kept] = out->centre[i];
        out->width[kept] = out->width[i];
        out->variance[kept] = out->variance[i];
        out->step[kept++] = out->step[i];
    }
    out->count = kept;
}

static double median_of(const double *values, size_t count, double *scratch)
{
    memcpy(scratch, values, count * sizeof *scratch);
    return tdm_quantile(scratch, count, 0.5);
}

static void fit_columns(const tdm_measure_input *input, const tdm_columns *columns, const work *at,
                        tdm_line *out)
{
    for (size_t block = 0; block < columns->blocks; block++)
        fit_column(input, columns, block, at, out);
    if (out->count == 0)
        return;
    const double step = median_of(out->step, out->count, at->value);
    drop_small(step, out);
    const double width = median_of(out->width, out->count, at->value);
    judge_flat(input, columns, step, width, at, out);
}

static bool allocate(const tdm_columns *columns, tdm_line *out, work *at)
{
    const size_t count = columns->blocks, most_count = count > columns->bins ? count : columns->bins;
    out->across = calloc(count, sizeof *out->across);
    out->centre = calloc(count, sizeof *out->centre);
    out->width = calloc(count, sizeof *out->width);
    out->variance = calloc(count, sizeof *out->variance);
    out->step = calloc(count, sizeof *out->step);
    out->state = calloc(count, sizeof *out->state);
    at->value = calloc(most_count, sizeof *at->value);
    at->weight = calloc(most_count, sizeof *at->weight);
    return out->across && out->centre && out->width && out->variance && out->step && out->state &&
           at->value && at->weight;
}

/* Along the fall, around the whole's line. */
static work stretch(const tdm_fall *fall)
{
    const tdm_shape_fit *whole = &fall->fit;
    const int step = tdm_fall_main_step(whole);
    const double centre = whole->centre[step];
    const double reach = fmax(reach_widths * tdm_fall_width(fall), least_reach_mm);
    work at = {.from = centre - reach, .to = centre + reach};
    if (whole->shape == TDM_SHAPE_BAND) /* keep the band's far side out */
        at.to = fmin(at.to, 0.5 * (centre + whole->centre[1 - step]));
    return at;
}

tdm_code tdm_line_make(const tdm_measure_input *input, tdm_line *out, tdm_error *error)
{
    tdm_columns columns = {0};
    const size_t cells = (size_t)fmax(column_mm / input->strip->cell + 0.5, 1);
    tdm_code code = tdm_columns_make(input->strip, cells, &columns, error);
    if (code != TDM_OK)
        return code;
    tdm_line line = {.columns = columns.blocks, .column = columns.block};
    work at = stretch(input->fall);
    code = allocate(&columns, &line, &at) ? TDM_OK : tdm_fail_memory(error, NULL);
    if (code == TDM_OK)
        code = tdm_line_axis_make(&columns, input->fall, at.from, at.to, &at.axis, error);
    if (code == TDM_OK)
        fit_columns(input, &columns, &at, &line);
    free(at.value);
    free(at.weight);
    tdm_columns_free(&columns);
    if (code == TDM_OK)
        *out = line;
    else
        tdm_line_free(&line);
    return code;
}

void tdm_line_free(tdm_line *line)
{
    free(line->across);
    free(line->centre);
    free(line->width);
    free(line->variance);
    free(line->step);
    free(line->state);
    *line = (tdm_line){0};
}

double tdm_line_across(const tdm_line *line, size_t column)
{
    return ((double)column + 0.5) * line->column;
}
