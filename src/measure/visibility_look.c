/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/visibility_look.h"

#include <math.h>
#include <stdlib.h>

#include "base/fail.h"

/* All choices, given with their reasons in METHODS.md. */
static const double least_fill = 0.2;   /* of the fullest row's cells, for a row to count */
static const double least_share = 0.25; /* of half a degree, for a patch to count */
static const double clear_widths =
    1.5; /* of the fall, from its centre to where the texture is the hair's own */

enum { MOMENTS = 6 }; /* of a symmetric 3 x 3 matrix */

/* Sums over the rows before a row; one more than there are rows. */
typedef struct sums {
    double rows, cells;
    double lab[3];
    double free;            /* cells less one a row */
    double within[MOMENTS]; /* squares and products about the row's own mean */
} sums;

static void add_row(const tdm_seen *seen, size_t row, double least, sums *to)
{
    const float *lab = seen->lab + 3 * row * seen->cols;
    const uint8_t *use = seen->use + row * seen->cols;
    double cells = 0, mean[3] = {0, 0, 0}, square[MOMENTS] = {0};
    for (size_t j = 0; j < seen->cols; j++) {
        if (!use[j])
            continue;
        const double l = (double)lab[3 * j], a = (double)lab[3 * j + 1], b = (double)lab[3 * j + 2];
        const double products[MOMENTS] = {l * l, a * a, b * b, l * a, l * b, a * b};
        cells += 1;
        mean[0] += l;
        mean[1] += a;
        mean[2] += b;
        for (int k = 0; k < MOMENTS; k++)
            square[k] += products[k];
    }
    if (cells < 1 || cells < least)
        return;
    to->rows += 1;
    to->cells += cells;
    to->free += cells - 1;
    for (int k = 0; k < 3; k++)
        to->lab[k] += mean[k];
    const double of_mean[MOMENTS] = {mean[0] * mean[0], mean[1] * mean[1], mean[2] * mean[2],
                                     mean[0] * mean[1], mean[0] * mean[2], mean[1] * mean[2]};
    for (int k = 0; k < MOMENTS; k++)
        to->within[k] += square[k] - of_mean[k] / cells;
}

static double fullest_row(const tdm_seen *seen)
{
    double most = 0;
    for (size_t i = 0; i < seen->rows; i++) {
        double cells = 0;
        for (size_t j = 0; j < seen->cols; j++)
            cells += seen->use[i * seen->cols + j];
        most = fmax(most, cells);
    }
    return most;
}

static sums *make_sums(const tdm_seen *seen)
{
    sums *before = calloc(seen->rows + 1, sizeof *before);
    if (!before)
        return NULL;
    const double least = least_fill * fullest_row(seen);
    for (size_t i = 0; i < seen->rows; i++) {
        before[i + 1] = before[i];
        add_row(seen, i, least, &before[i + 1]);
    }
    return before;
}

static double patch_mean(const sums *before, tdm_seen_rows rows, double lab[3])
{
    const double cells = before[rows.to].cells - before[rows.from].cells;
    for (int k = 0; k < 3; k++)
        lab[k] = (before[rows.to].lab[k] - before[rows.from].lab[k]) / cells;
    return before[rows.to].rows - before[rows.from].rows;
}

/* Standard deviation across, along the step, of both plain patches alike; of one where the other has none. */
static double texture(const sums *before, const tdm_look *look)
{
    const double *d = look->direction;
    const double factor[MOMENTS] = {d[0] * d[0],     d[1] * d[1],     d[2] * d[2],
                                    2 * d[0] * d[1], 2 * d[0] * d[2], 2 * d[1] * d[2]};
    double variance = 0, patches = 0;
    for (int side = 0; side < 2; side++) {
        const sums *from = &before[look->plain[side].from], *to = &before[look->plain[side].to];
        double square = 0;
        for (int k = 0; k < MOMENTS; k++)
            square += factor[k] * (to->within[k] - from->within[k]);
        if (to->free - from->free < 1)
            continue;
        variance += fmax(square, 0) / (to->free - from->free);
        patches += 1;
    }
    return patches > 0 ? sqrt(variance / patches) : 0;
}

/* The stretch in which the change lies and that in which to look, in rows. */
typedef struct reach {
    double change[2];
    double look[2];
} reach;

static reach find_reach(const tdm_fall *fall, double half, double cell)
{
    const tdm_shape_fit *fit = &fall->fit;
    reach out = {.change = {INFINITY, -INFINITY}, .look = {0, INFINITY}};
    if (fit->shape != TDM_SHAPE_TRANSITION && fit->shape != TDM_SHAPE_BAND)
        return out;
    const int main = tdm_fall_main_step(fit);
    const double centre = fit->centre[main], width = tdm_fall_width(fall);
    const double near = fmax(0.5 * width, half);
    out.look[0] = (centre - near) / cell;
    out.look[1] = (centre + near) / cell;
    out.change[0] = (centre - clear_widths * width) / cell;
    out.change[1] = (centre + clear_widths * width) / cell;
    if (fit->shape == TDM_SHAPE_BAND) /* not into the band's other side */
        out.change[1] = fmin(out.change[1], 0.5 * (centre + fit->centre[1 - main]) / cell);
    return out;
}

/* As long as the patches, clear of the change or as far from it as there is hair. */
static void place_plain(const reach *where, size_t rows, tdm_look *look)
{
    const size_t middle = look->patch[0].to, above = middle - look->patch[0].from,
                 below = look->patch[1].to - middle;
    const double upper = fmin((double)middle, where->change[0]),
                 lower = fmax((double)middle, where->change[1]);
    look->plain[0].from = upper > (double)above ? (size_t)upper - above : 0;
    look->plain[0].to = look->plain[0].from + above;
    look->plain[1].from = lower < (double)(rows - below) ? (size_t)lower : rows - below;
    look->plain[1].to = look->plain[1].from + below;
}

static bool look_at(const sums *before, const reach *where, size_t rows, size_t middle, size_t half,
                    tdm_look *look)
{
    look->patch[0] = (tdm_seen_rows){middle > half ? middle - half : 0, middle};
    look->patch[1] = (tdm_seen_rows){middle, middle + half < rows ? middle + half : rows};
    double mean[2][3], square = 0;
    for (int side = 0; side < 2; side++) {
        const double used = patch_mean(before, look->patch[side], mean[side]);
        if (used < 1 || used < least_share * (double)half)
            return false;
    }
    for (int k = 0; k < 3; k++) {
        look->direction[k] = mean[1][k] - mean[0][k];
        square += look->direction[k] * look->direction[k];
    }
    look->step = sqrt(square);
    for (int k = 0; k < 3 && look->step > 0; k++)
        look->direction[k] /= look->step;
    place_plain(where, rows, look);
    look->texture = texture(before, look);
    look->dprime = look->step / fmax(look->texture, TDM_JND_LAB);
    return true;
}

static tdm_code best_look(const tdm_seen *seen, const tdm_fall *fall, double half, tdm_look *out,
                          tdm_error *error)
{
    *out = (tdm_look){.dprime = NAN};
    sums *before = make_sums(seen);
    if (!before)
        return tdm_fail_memory(error, NULL);
    const reach where = find_reach(fall, half, seen->cell);
    const size_t patch = (size_t)fmax(half / seen->cell + 0.5, 1);
    for (size_t middle = 1; middle < seen->rows; middle++) {
        tdm_look here;
        if ((double)middle < where.look[0] || (double)middle > where.look[1] ||
            !look_at(before, &where, seen->rows, middle, patch, &here))
            continue;
        if (!(out->dprime >= here.dprime))
            *out = here;
    }
    free(before);
    return TDM_OK;
}

tdm_code tdm_look_from(const tdm_scielab *scielab, const tdm_fall *fall, double distance_m, tdm_seen *seen,
                       tdm_look *out, tdm_error *error)
{
    tdm_seen here = {0};
    *out = (tdm_look){.dprime = NAN};
    tdm_code code = tdm_scielab_see(scielab, distance_m, &here, error);
    if (code == TDM_OK)
        code = best_look(&here, fall, 0.5 * tdm_view_mm(distance_m, 1), out, error);
    if (code == TDM_OK && seen)
        *seen = here;
    else
        tdm_seen_free(&here);
    return code;
}
