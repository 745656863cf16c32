/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/gloss.h"

#include <gsl/gsl_multifit.h>
#include <math.h>
#include <stdlib.h>

#include "base/fail.h"
#include "colour/lab.h"
#include "measure/spread.h"

/* Shaded and mixed, hair moves through the body's colours: Z is a smooth function of Y, here a parabola in
 * each band. Glints add equal shares of white to X, Y and Z, and so scatter Z off it. METHODS.md gives the
 * numbers' reasons. */
static const double band_mm = 4;
static const double lag_mm =
    1; /* noise and compression no longer go together over it, a strand and its glint do */
static const double mean_per_scatter = 3; /* mean gloss over the standard deviation of its glints */
static const double turn_lstar = 0.3, turn_tint = 0.006; /* a mm */
static const double floor_quantile = 0.2, floor_margin = 1.15;
static const double least_tint = 0.15; /* 1 - Z/Y: of greyer hair gloss can't be told */
/* Where nothing tells: half an L* at L* 40. */
static const double untold = 0.004;
enum { LEAST_CELLS = 200, TERMS = 3 };

typedef struct band {
    double middle;      /* from the root */
    double scatter;     /* of Z off the parabola, over the mean of Y; NaN where not to be told */
    double light, tint; /* mean Y, and 1 - Z/Y */
} band;

/* Room for one band's fit. */
typedef struct room {
    size_t cells;
    gsl_matrix *terms;
    gsl_vector *z;
    gsl_vector *off; /* residuals */
    size_t *cell;    /* of each entry, counted from the band's first */
    double *laid;    /* residuals cell by cell, NaN where none */
    gsl_vector *coefficients;
    gsl_matrix *covariance;
} room;

static bool make_room(size_t cells, room *out)
{
    *out = (room){.cells = cells,
                  .terms = gsl_matrix_alloc(cells, TERMS),
                  .z = gsl_vector_alloc(cells),
                  .off = gsl_vector_alloc(cells),
                  .cell = malloc(cells * sizeof *out->cell),
                  .laid = malloc(cells * sizeof *out->laid),
                  .coefficients = gsl_vector_alloc(TERMS),
                  .covariance = gsl_matrix_alloc(TERMS, TERMS)};
    return out->terms && out->z && out->off && out->cell && out->laid && out->coefficients && out->covariance;
}

static void free_room(room *it)
{
    gsl_matrix_free(it->terms);
    gsl_vector_free(it->z);
    gsl_vector_free(it->off);
    free(it->cell);
    free(it->laid);
    gsl_vector_free(it->coefficients);
    gsl_matrix_free(it->covariance);
}

/* Fills the room with the used cells of rows [from, to); how many. */
static size_t gather(const tdm_strip *strip, size_t from, size_t to, room *into, band *out)
{
    size_t count = 0;
    double light = 0, blue = 0;
    for (size_t i = from * strip->cols; i < to * strip->cols; i++) {
        if (!strip->use[i])
            continue;
        const double y = (double)strip->xyz[3 * i + 1];
        const double z = (double)strip->xyz[3 * i + 2] / tdm_white_d50[2];
        gsl_matrix_set(into->terms, count, 0, 1);
        gsl_matrix_set(into->terms, count, 1, y);
        gsl_matrix_set(into->terms, count, 2, y * y);
        into->cell[count] = i - from * strip->cols;
        gsl_vector_set(into->z, count++, z);
        light += y;
        blue += z;
    }
    out->light = light / (double)count;
    out->tint = 1 - blue / light;
    return count;
}

/* What residuals of one column, a lag apart, have in common. */
static double common(const tdm_strip *strip, size_t rows, size_t count, room *with)
{
    const size_t cells = rows * strip->cols;
    const size_t lag = strip->cols * (size_t)fmax(lag_mm / strip->cell + 0.5, 1);
    double sum = 0, pairs = 0;
    for (size_t i = 0; i < cells; i++)
        with->laid[i] = NAN;
    for (size_t i = 0; i < count; i++)
        with->laid[with->cell[i]] = gsl_vector_get(with->off, i);
    for (size_t i = 0; i + lag < cells; i++) {
        const double product = with->laid[i] * with->laid[i + lag];
        if (!isnan(product)) {
            sum += product;
            pairs++;
        }
    }
    return pairs > 0 ? fmax(sum / pairs, 0) : (double)NAN;
}

static tdm_code measure_band(const tdm_strip *strip, size_t from, size_t to, room *with, band *out,
                             tdm_error *error)
{
    out->middle = 0.5 * (double)(from + to) * strip->cell;
    out->scatter = NAN;
    const size_t count = gather(strip, from, to, with, out);
    if (count < LEAST_CELLS || !(out->light > 0) || out->tint < least_tint)
        return TDM_OK;
    gsl_multifit_linear_workspace *work = gsl_multifit_linear_alloc(count, TERMS);
    if (!work)
        return tdm_fail_memory(error, NULL);
    gsl_matrix_view terms = gsl_matrix_submatrix(with->terms, 0, 0, count, TERMS);
    gsl_vector_view z = gsl_vector_subvector(with->z, 0, count);
    gsl_vector_view off = gsl_vector_subvector(with->off, 0, count);
    double squares = 0;
    if (gsl_multifit_linear(&terms.matrix, &z.vector, with->coefficients, with->covariance, &squares, work) ==
            0 &&
        gsl_multifit_linear_residuals(&terms.matrix, &z.vector, with->coefficients, &off.vector) == 0)
        out->scatter = sqrt(common(strip, to - from, count, with)) / out->light;
    gsl_multifit_linear_free(work);
    return TDM_OK;
}

static double lightness(const band *it)
{
    const double xyz[3] = {it->light * tdm_white_d50[0], it->light, it->light * tdm_white_d50[2]};
    double lab[3];
    tdm_xyz_to_lab(xyz, lab);
    return lab[0];
}

/* Where root colour gives way to the lengths', hair of many colours lies side by side and scatters by
 * itself. */
static bool turns(const band *bands, size_t count, size_t i)
{
    const size_t before = i > 0 ? i - 1 : 0, after = i + 1 < count ? i + 1 : i;
    const double mm = band_mm * (double)(after - before);
    return !(fabs(lightness(&bands[after]) - lightness(&bands[before])) <= turn_lstar * mm &&
             fabs(bands[after].tint - bands[before].tint) <= turn_tint * mm);
}

static void leave_out_turns(band *bands, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        const bool turning = (i > 0 && turns(bands, count, i - 1)) || turns(bands, count, i) ||
                             (i + 1 < count && turns(bands, count, i + 1));
        if (turning)
            bands[i].scatter = NAN;
    }
}

/* What hair, texture and noise scatter without gloss. scratch: room for count. */
static double floor_of(const band *bands, size_t count, double *scratch)
{
    size_t used = 0;
    for (size_t i = 0; i < count; i++) {
        if (isfinite(bands[i].scatter))
            scratch[used++] = bands[i].scatter;
    }
    return floor_margin * tdm_quantile(scratch, used, floor_quantile);
}

/* Replaces scatter by the light that gloss adds. */
static void to_gloss(double floor, band *bands, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        const double excess = bands[i].scatter * bands[i].scatter - floor * floor;
        bands[i].scatter = isfinite(excess)
                               ? mean_per_scatter * bands[i].light * sqrt(fmax(excess, 0)) / bands[i].tint
                               : NAN;
    }
}

/* Straight between the bands that tell; the nearest one's beyond them; a guess where none does. */
static double gloss_at(const band *bands, size_t count, double along)
{
    const band *before = NULL, *after = NULL;
    for (size_t i = 0; i < count && !after; i++) {
        if (!isfinite(bands[i].scatter))
            continue;
        if (bands[i].middle <= along)
            before = &bands[i];
        else
            after = &bands[i];
    }
    if (!before && !after)
        return untold;
    if (!before || !after)
        return before ? before->scatter : after->scatter;
    const double share = (along - before->middle) / (after->middle - before->middle);
    return before->scatter + share * (after->scatter - before->scatter);
}

static tdm_code measure_all(const tdm_strip *strip, size_t rows, band *bands, size_t count, tdm_error *error)
{
    room with;
    tdm_code code = make_room(rows * strip->cols, &with) ? TDM_OK : tdm_fail_memory(error, NULL);
    for (size_t i = 0; code == TDM_OK && i < count; i++)
        code = measure_band(strip, i * rows, (i + 1) * rows, &with, &bands[i], error);
    free_room(&with);
    return code;
}

tdm_code tdm_gloss_scatter(const tdm_strip *strip, const double *along, size_t places, double *out,
                           tdm_error *error)
{
    const size_t rows = (size_t)fmax(band_mm / strip->cell + 0.5, 1), count = strip->rows / rows;
    for (size_t i = 0; i < places; i++)
        out[i] = untold;
    if (count == 0)
        return TDM_OK;
    band *bands = malloc(count * sizeof *bands);
    double *scratch = malloc(count * sizeof *scratch);
    tdm_code code =
        bands && scratch ? measure_all(strip, rows, bands, count, error) : tdm_fail_memory(error, NULL);
    if (code == TDM_OK) {
        leave_out_turns(bands, count);
        to_gloss(floor_of(bands, count, scratch), bands, count);
        for (size_t i = 0; i < places; i++)
            out[i] = gloss_at(bands, count, along[i]);
    }
    free(bands);
    free(scratch);
    return code;
}
