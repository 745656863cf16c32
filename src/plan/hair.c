/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/hair.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "colour/lab.h"
#include "measure/smooth.h"
#include "plan/locus.h"

static const double window_mm = 2; /* along one strand: long enough to be free of noise */
static const double run_mm = 0.5;  /* cells that share a window */
static const double level_mm = 10; /* to each side: over so far shading evens out */

tdm_code tdm_hair_allocate(const tdm_strip *like, tdm_hair *out, tdm_error *error)
{
    const size_t cells = like->rows * like->cols;
    out->strip = *like;
    out->strip.xyz = malloc(3 * cells * sizeof *out->strip.xyz);
    out->strip.lab = malloc(3 * cells * sizeof *out->strip.lab);
    out->strip.use = malloc(cells);
    out->body = calloc(3 * cells, sizeof *out->body);
    out->shade = calloc(cells, sizeof *out->shade);
    return out->strip.xyz && out->strip.lab && out->strip.use && out->body && out->shade
               ? TDM_OK
               : tdm_fail_memory(error, NULL);
}

void tdm_hair_free(tdm_hair *hair)
{
    tdm_strip_free(&hair->strip);
    free(hair->body);
    free(hair->shade);
    *hair = (tdm_hair){0};
}

/* Mean colour of the fall's bins between two places; false where none is used. */
static bool mean_between(const tdm_fall *fall, double from, double to, double lab[3])
{
    double sum[3] = {0, 0, 0}, weights = 0;
    for (size_t i = 0; i < fall->bins; i++) {
        if (fall->along[i] < from || fall->along[i] > to || fall->weight[i] <= 0)
            continue;
        double xyz[3];
        tdm_lab_to_xyz(fall->lab + 3 * i, xyz);
        for (int k = 0; k < 3; k++)
            sum[k] += fall->weight[i] * xyz[k];
        weights += fall->weight[i];
    }
    if (weights <= 0)
        return false;
    for (int k = 0; k < 3; k++)
        sum[k] /= weights;
    tdm_xyz_to_lab(sum, lab);
    return true;
}

/* Before the line's 10 % point and beyond its 90 % point; where the fall has no line, its first and last
 * tenth. */
static tdm_code find_ends(const tdm_fall *fall, tdm_hair *out, tdm_error *error)
{
    const double tenth = 0.1 * fall->length;
    double before = tenth, beyond = fall->length - tenth;
    if (fall->fit.shape == TDM_SHAPE_TRANSITION) {
        before = fall->fit.centre[0] - 0.5 * tdm_fall_width(fall);
        beyond = fall->fit.centre[0] + 0.5 * tdm_fall_width(fall);
    }
    /* Hair within the line is neither root nor lengths: it is looked at only where a broad fall, or a zone
     * that begins or ends at the line, leaves nothing else. */
    const double part = fmin(tenth, 10), length = fall->length;
    const bool root =
        mean_between(fall, 0, before, out->root_lab) || mean_between(fall, 0, part, out->root_lab);
    const bool lengths = mean_between(fall, beyond, length, out->lengths_lab) ||
                         mean_between(fall, length - part, length, out->lengths_lab);
    if (!root || !lengths)
        return tdm_fail(error, TDM_ERR_UNUSABLE, NULL, NULL,
                        "too little of the hair at the root or at the ends can be used to plan on it");
    return TDM_OK;
}

static void make_locus(const tdm_hair *hair, const struct tdm_zone_reading *reading, tdm_locus *out)
{
    double knots[TDM_LOCUS_KNOTS][3];
    int count = 0;
    memcpy(knots[count++], hair->root_lab, sizeof knots[0]);
    if (reading->strands.separable) {
        memcpy(knots[count++], reading->strands.dark_lab, sizeof knots[0]);
        memcpy(knots[count++], reading->strands.light_lab, sizeof knots[0]);
    } else {
        memcpy(knots[count++], hair->lengths_lab, sizeof knots[0]);
    }
    tdm_locus_make(knots, count, out);
}

static bool window_lab(const tdm_strip *strip, size_t from, size_t to, size_t col, double lab[3])
{
    double sum[3] = {0, 0, 0}, cells = 0;
    for (size_t row = from; row < to; row++) {
        const size_t cell = row * strip->cols + col;
        if (!strip->use[cell])
            continue;
        for (size_t k = 0; k < 3; k++)
            sum[k] += (double)strip->xyz[3 * cell + k];
        cells += 1;
    }
    if (cells <= 0)
        return false;
    for (int k = 0; k < 3; k++)
        sum[k] /= cells;
    tdm_xyz_to_lab(sum, lab);
    return true;
}

/* Rows [from, to) of one column, by the body that the window around them shows. */
static void part_run(const tdm_strip *strip, const tdm_locus *locus, size_t from, size_t to, size_t reach,
                     size_t col, tdm_hair *out)
{
    double lab[3];
    const size_t first = from > reach ? from - reach : 0;
    const size_t last = to + reach < strip->rows ? to + reach : strip->rows;
    if (!window_lab(strip, first, last, col, lab))
        return;
    const int step = tdm_locus_step(locus, lab);
    for (size_t row = from; row < to; row++) {
        const size_t cell = row * strip->cols + col;
        for (size_t k = 0; k < 3; k++) {
            lab[k] = (double)strip->lab[3 * cell + k];
            out->body[3 * cell + k] = (float)locus->xyz[step][k];
        }
        out->shade[cell] = (float)tdm_locus_shade(locus, step, lab);
    }
}

static void part_cells(const tdm_strip *strip, const tdm_locus *locus, tdm_hair *out)
{
    const size_t run = (size_t)fmax(run_mm / strip->cell + 0.5, 1);
    const size_t reach = (size_t)(0.5 * fmax(window_mm / strip->cell - (double)run, 0) + 0.5);
    for (size_t from = 0; from < strip->rows; from += run) {
        const size_t to = from + run < strip->rows ? from + run : strip->rows;
        for (size_t col = 0; col < strip->cols; col++)
            part_run(strip, locus, from, to, reach, col, out);
    }
}

/* Luminance that is seen and that of the bodies, summed over a row's used cells. */
static void sum_row(const tdm_hair *hair, size_t row, double *seen, double *body)
{
    const tdm_strip *strip = &hair->strip;
    *seen = *body = 0;
    for (size_t cell = row * strip->cols; cell < (row + 1) * strip->cols; cell++) {
        if (!strip->use[cell])
            continue;
        *seen += (double)strip->xyz[3 * cell + 1];
        *body += (double)strip->xyz[3 * cell + 1] / fmax((double)hair->shade[cell], 1e-3);
    }
}

static void scale_row(tdm_hair *hair, size_t row, double factor)
{
    const size_t cols = hair->strip.cols;
    for (size_t cell = row * cols; cell < (row + 1) * cols; cell++) {
        hair->shade[cell] *= (float)factor;
        for (size_t k = 0; k < 3; k++)
            hair->body[3 * cell + k] /= (float)factor;
    }
}

/* What a reading takes for the colour of an area is its mean light, shading included: over a few centimetres
 * the shading's mean is therefore 1 by definition. */
static tdm_code level_shade(tdm_hair *hair, tdm_error *error)
{
    const size_t rows = hair->strip.rows, reach = (size_t)(level_mm / hair->strip.cell + 0.5);
    double *sums = malloc(2 * rows * sizeof *sums);
    if (!sums)
        return tdm_fail_memory(error, NULL);
    for (size_t row = 0; row < rows; row++)
        sum_row(hair, row, &sums[2 * row], &sums[2 * row + 1]);
    for (size_t row = 0; row < rows; row++) {
        double seen = 0, body = 0;
        const size_t from = row > reach ? row - reach : 0, to = row + reach < rows ? row + reach : rows - 1;
        for (size_t i = from; i <= to; i++) {
            seen += sums[2 * i];
            body += sums[2 * i + 1];
        }
        if (seen > 0 && body > 0)
            scale_row(hair, row, body / seen);
    }
    free(sums);
    return TDM_OK;
}

tdm_code tdm_hair_make(const tdm_strip *strip, const tdm_fall *fall, const struct tdm_zone_reading *reading,
                       tdm_hair *out, tdm_error *error)
{
    tdm_hair hair = {0};
    tdm_locus locus;
    const size_t cells = strip->rows * strip->cols;
    tdm_code code = tdm_hair_allocate(strip, &hair, error);
    if (code == TDM_OK)
        code = find_ends(fall, &hair, error);
    if (code == TDM_OK) {
        memcpy(hair.strip.xyz, strip->xyz, 3 * cells * sizeof *strip->xyz);
        memcpy(hair.strip.lab, strip->lab, 3 * cells * sizeof *strip->lab);
        memcpy(hair.strip.use, strip->use, cells);
        make_locus(&hair, reading, &locus);
        part_cells(strip, &locus, &hair);
        code = level_shade(&hair, error);
    }
    if (code != TDM_OK) {
        tdm_hair_free(&hair);
        return code;
    }
    *out = hair;
    return TDM_OK;
}
