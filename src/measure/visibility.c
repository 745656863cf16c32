/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How far the line stands out from the hair's own texture to an eye at a distance. */
#include <gsl/gsl_math.h>
#include <math.h>
#include <stdlib.h>

#include "base/fail.h"
#include "colour/lab.h"
#include "measure/measure.h"
#include "measure/visibility.h"

/* Limits between none, soft, visible and hard, in units of d': classes of a colour difference in Mokrzycki
 * and Tatol (2011): not noticed, noticed by the trained, by anybody, clear. */
static const double soft_from = 1, visible_from = 2, hard_from = 3.5;
enum { GRADED_DISTANCE = 1 /* 1.2 m */ };

/* A patch above and one below a place, for every block across. */
typedef struct window {
    double mean[2][3]; /* CIELAB of all blocks together */
    double texture;    /* pooled standard deviation of the blocks along the step */
    double step;
} window;

static bool block_lab(const tdm_columns *columns, size_t from, size_t to, size_t block, double lab[3])
{
    double sum[3] = {0, 0, 0}, cells = 0;
    for (size_t i = from; i < to; i++) {
        const size_t at = i * columns->blocks + block;
        cells += columns->cells[at];
        for (size_t k = 0; k < 3; k++)
            sum[k] += columns->sum[3 * at + k];
    }
    if (cells <= 0)
        return false;
    for (int k = 0; k < 3; k++)
        sum[k] /= cells;
    tdm_xyz_to_lab(sum, lab);
    return true;
}

/* Variance across the blocks of their place along the direction of the step. */
static double block_variance(const tdm_columns *columns, size_t from, size_t to, const double direction[3])
{
    double count = 0, sum = 0, square = 0;
    for (size_t block = 0; block < columns->blocks; block++) {
        double lab[3];
        if (!block_lab(columns, from, to, block, lab))
            continue;
        const double place = lab[0] * direction[0] + lab[1] * direction[1] + lab[2] * direction[2];
        count += 1;
        sum += place;
        square += place * place;
    }
    return count > 1 ? fmax((square - sum * sum / count) / (count - 1), 0) : 0;
}

static bool look(const tdm_columns *columns, size_t middle, size_t half, window *out)
{
    double xyz[3], direction[3];
    for (int side = 0; side < 2; side++) {
        const size_t from = side ? middle : middle - half;
        if (!tdm_columns_mean(columns, from, from + half, NULL, xyz))
            return false;
        tdm_xyz_to_lab(xyz, out->mean[side]);
    }
    double square = 0;
    for (int k = 0; k < 3; k++) {
        direction[k] = out->mean[1][k] - out->mean[0][k];
        square += direction[k] * direction[k];
    }
    out->step = sqrt(square);
    out->texture = 0;
    if (out->step <= 0)
        return true;
    for (int k = 0; k < 3; k++)
        direction[k] /= out->step;
    out->texture = sqrt(0.5 * (block_variance(columns, middle - half, middle, direction) +
                               block_variance(columns, middle, middle + half, direction)));
    return true;
}

/* The largest d' over places near the line, or anywhere where there is none. */
static double largest(const tdm_fall *fall, const tdm_columns *columns, double patch)
{
    const tdm_shape_fit *fit = &fall->fit;
    const size_t half = (size_t)(patch / columns->bin + 0.5);
    double from = 0, to = fall->length, most = NAN;
    if (fit->shape == TDM_SHAPE_TRANSITION || fit->shape == TDM_SHAPE_BAND) {
        const double reach = fmax(0.5 * tdm_fall_width(fall), patch);
        from = fit->centre[tdm_fall_main_step(fit)] - reach;
        to = fit->centre[tdm_fall_main_step(fit)] + reach;
    }
    for (size_t middle = half; half > 0 && middle + half <= columns->bins; middle++) {
        window here;
        const double along = (double)middle * columns->bin;
        if (along < from || along > to || !look(columns, middle, half, &here))
            continue;
        const double dprime = here.step / fmax(here.texture, TDM_JND_LAB);
        if (!(most >= dprime))
            most = dprime;
    }
    return most;
}

tdm_code tdm_line_dprime(const tdm_strip *strip, const tdm_fall *fall, double distance_m, double *dprime,
                         tdm_error *error)
{
    *dprime = NAN;
    if (!strip->scaled) /* an angle needs millimetres */
        return TDM_OK;
    /* Half a degree to each side makes the one degree of view that the definition asks for. */
    const double patch = 1000 * distance_m * tan(0.5 * M_PI / 180);
    const size_t cells = (size_t)fmax(patch / strip->cell + 0.5, 1);
    tdm_columns columns = {0};
    const tdm_code code = tdm_columns_make(strip, cells, &columns, error);
    if (code == TDM_OK)
        *dprime = largest(fall, &columns, patch);
    tdm_columns_free(&columns);
    return code;
}

const char *tdm_line_grade(double dprime)
{
    if (!isfinite(dprime))
        return NULL;
    return dprime < soft_from      ? "none"
           : dprime < visible_from ? "soft"
           : dprime < hard_from    ? "visible"
                                   : "hard";
}

static tdm_code compute(const tdm_measure_input *input, struct tdm_zone_reading *out, tdm_warnings *warnings,
                        tdm_error *error)
{
    (void)warnings;
    if (!input->strip->scaled) /* an angle needs millimetres */
        return TDM_OK;
    for (size_t i = 0; i < TDM_DISTANCES; i++) {
        tdm_visibility *here = &out->demarcation.visibility[i];
        const tdm_code code =
            tdm_line_dprime(input->strip, input->fall, here->distance_m, &here->dprime, error);
        if (code != TDM_OK)
            return code;
    }
    const tdm_shape shape = input->fall->fit.shape;
    const bool line = shape == TDM_SHAPE_TRANSITION || shape == TDM_SHAPE_BAND;
    out->demarcation.grade =
        line ? tdm_line_grade(out->demarcation.visibility[GRADED_DISTANCE].dprime) : "none";
    return TDM_OK;
}

const tdm_measure tdm_measure_visibility = {.name = "visibility", .compute = compute};
