/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A map of the root in squares of half a millimetre, each by its place on the colour line. Light places that
 * touch the line, or one another on the way to it, belong to the lengths; the other groups are spots. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "colour/lab.h"
#include "measure/line_spots.h"
#include "measure/matte.h"
#include "measure/spread.h"
#include "measure/squares.h"

/* All choices. */
static const double square_mm = 0.5;
static const double least_across = 2, least_along = 3; /* mm of a spot */
static const double least_area = 5;                    /* square mm, of the 6 that such a spot has */
static const double sure = 3;           /* robust standard deviations of the root's own scatter */
static const double least_share = 0.3;  /* of the line's step: less is shade and texture */
static const double least_cosine = 0.8; /* between a spot's difference from the root and the colour line:
                                           shine and shade change colour in another direction */
static const double margin = 3;         /* mm above the line's upper end that still belong to it */
static const double upper_end = 0.765; /* widths above the centre where a line has a fortieth of its height */
enum { LEAST_ROOT = 30 };

typedef struct map {
    size_t rows, cols, cells; /* cells: of the strip, a side of a square */
    double square;
    float *lab;
    double *value; /* NaN where too little is used */
    size_t *edge;  /* cols: first row of the line's own */
    uint8_t *mark;
    size_t *queue;
    double *scratch;
} map;

static bool allocate(const tdm_strip *strip, map *out)
{
    out->cells = (size_t)fmax(square_mm / strip->cell + 0.5, 1);
    out->square = (double)out->cells * strip->cell;
    out->rows = strip->rows / out->cells;
    out->cols = strip->cols / out->cells;
    const size_t count = out->rows * out->cols + 1;
    out->lab = calloc(count, 3 * sizeof *out->lab);
    out->value = calloc(count, sizeof *out->value);
    out->edge = calloc(out->cols + 1, sizeof *out->edge);
    out->mark = calloc(count, sizeof *out->mark);
    out->queue = calloc(count, sizeof *out->queue);
    out->scratch = calloc(count, sizeof *out->scratch);
    return out->lab && out->value && out->edge && out->mark && out->queue && out->scratch;
}

static void release(map *of)
{
    free(of->lab);
    free(of->value);
    free(of->edge);
    free(of->mark);
    free(of->queue);
    free(of->scratch);
}

static void fill_square(const tdm_measure_input *input, map *out, size_t row, size_t col)
{
    const size_t at = row * out->cols + col, side = out->cells;
    double xyz[3], lab[3];
    const double used = tdm_square_sum(input->strip, row * side, side, col * side, side, xyz);
    out->value[at] = NAN;
    if (2 * used < (double)(side * side))
        return;
    for (size_t k = 0; k < 3; k++)
        xyz[k] /= used;
    const size_t seen = (size_t)(((double)row + 0.5) * out->square / input->columns->bin);
    const size_t bin = seen < input->fall->bins ? seen : input->fall->bins - 1;
    tdm_matte_colour(xyz, input->fall->gloss[bin], input->fall->light[bin], xyz);
    tdm_xyz_to_lab(xyz, lab);
    for (size_t k = 0; k < 3; k++)
        out->lab[3 * at + k] = (float)lab[k];
    out->value[at] = tdm_fall_project(input->fall, lab);
}

/* The line's place in a column, or as its neighbours' course has it. */
static double place_at(const tdm_line *line, const tdm_stagger_fit *fit, double across, double *width)
{
    double place = tdm_stagger_at(fit, across);
    for (size_t i = 0; i < line->count; i++) {
        if (fabs(line->across[i] - across) <= line->column && line->centre[i] < place) {
            place = line->centre[i];
            *width = fmax(*width, line->width[i]);
        }
    }
    return place;
}

static void find_edges(const tdm_line *line, const tdm_stagger_fit *fit, double usual_width, map *out)
{
    for (size_t col = 0; col < out->cols; col++) {
        double width = usual_width;
        const double place = place_at(line, fit, ((double)col + 0.5) * out->square, &width);
        const double edge = fmax(place - upper_end * width - margin, 0) / out->square;
        out->edge[col] = edge < (double)out->rows ? (size_t)edge : out->rows;
    }
}

/* What of the root stands out: its median and robust standard deviation above the line. */
static bool root_scatter(const map *of, double *middle, double *sd, double lab[3])
{
    size_t count = 0;
    for (size_t row = 0; row < of->rows; row++) {
        for (size_t col = 0; col < of->cols; col++) {
            const double value = of->value[row * of->cols + col];
            if (row < of->edge[col] && isfinite(value))
                of->scratch[count++] = value;
        }
    }
    if (count < LEAST_ROOT)
        return false;
    *middle = tdm_quantile(of->scratch, count, 0.5);
    *sd = tdm_robust_sd(of->scratch, count);
    for (size_t k = 0; k < 3; k++) {
        count = 0;
        for (size_t i = 0; i < of->rows * of->cols; i++) {
            if (i / of->cols < of->edge[i % of->cols] && isfinite(of->value[i]))
                of->scratch[count++] = (double)of->lab[3 * i + k];
        }
        lab[k] = tdm_quantile(of->scratch, count, 0.5);
    }
    return true;
}

static bool of_lengths(const map *of, const tdm_square_group *found)
{
    for (size_t i = 0; i < found->count; i++) {
        if (found->members[i] / of->cols >= of->edge[found->members[i] % of->cols])
            return true;
    }
    return false;
}

static bool is_spot(const map *of, const tdm_square_group *found, const double root[3],
                    const double direction[3])
{
    double along = 0, square = 0, lab[3] = {0, 0, 0};
    for (size_t i = 0; i < found->count; i++) {
        for (size_t k = 0; k < 3; k++)
            lab[k] += (double)of->lab[3 * found->members[i] + k];
    }
    for (size_t k = 0; k < 3; k++) {
        const double difference = lab[k] / (double)found->count - root[k];
        along += difference * direction[k];
        square += difference * difference;
    }
    return !of_lengths(of, found) && (double)(found->right - found->left) * of->square >= least_across &&
           (double)(found->bottom - found->top) * of->square >= least_along &&
           (double)found->count * of->square * of->square >= least_area &&
           along >= least_cosine * sqrt(square);
}

static void mark_light(double least, double sign, map *of)
{
    for (size_t i = 0; i < of->rows * of->cols; i++) {
        /* Below the line's upper end only as far as it takes to see that a group goes on there. */
        const bool near = i / of->cols <= of->edge[i % of->cols];
        of->mark[i] = near && isfinite(of->value[i]) && sign * of->value[i] >= sign * least;
    }
}

static tdm_code find_spots(const tdm_measure_input *input, map *of, tdm_places *out, tdm_error *error)
{
    const tdm_shape_fit *whole = &input->fall->fit;
    const double step = whole->step[tdm_fall_main_step(whole)], sign = step < 0 ? -1 : 1;
    double middle = 0, sd = 0, root[3], direction[3];
    /* A spot takes at least one square. */
    out->items = calloc(of->rows * of->cols + 1, sizeof *out->items);
    if (!out->items)
        return tdm_fail_memory(error, NULL);
    if (!root_scatter(of, &middle, &sd, root))
        return TDM_OK;
    for (size_t k = 0; k < 3; k++)
        direction[k] = sign * input->fall->direction[k];
    mark_light(middle + sign * fmax(fmax(sure * sd, TDM_JND_LAB), least_share * fabs(step)), sign, of);
    tdm_squares squares = {of->rows, of->cols, of->square, of->mark, of->queue};
    for (size_t i = 0; i < of->rows * of->cols; i++) {
        if (!of->mark[i])
            continue;
        const tdm_square_group found = tdm_squares_gather(&squares, i);
        if (is_spot(of, &found, root, direction))
            out->items[out->count++] = tdm_square_place(input->strip, of->square, &found);
    }
    tdm_places_sort(out);
    return TDM_OK;
}

tdm_code tdm_line_bleeds(const tdm_measure_input *input, const tdm_line *line, const tdm_stagger_fit *fit,
                         double width, tdm_places *out, tdm_error *error)
{
    map squares = {.rows = 0};
    tdm_code code = allocate(input->strip, &squares) ? TDM_OK : tdm_fail_memory(error, NULL);
    if (code == TDM_OK) {
        for (size_t row = 0; row < squares.rows; row++) {
            for (size_t col = 0; col < squares.cols; col++)
                fill_square(input, &squares, row, col);
        }
        find_edges(line, fit, width, &squares);
        code = find_spots(input, &squares, out, error);
    }
    release(&squares);
    return code;
}
