/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/strand_third.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "colour/lab.h"
#include "measure/spread.h"

static const double mixed = 0.15;       /* so much of the other kind, and a place isn't pure: a choice */
static const double least_places = 0.1; /* of all places must be pure for the question to be asked */
static const double least_between =
    0.25; /* of the way in light from either end: else it may be a rest of mixing */
static const double least_first = 4;    /* Ashman's D of light and dark: fine ribbons blur into all between */
static const double least_share = 0.15; /* of all hair */
static const double least_apart = 3;    /* Ashman's D of its own split */
static const double least_contrast = 3; /* L*, between neighbours; less is chance of locks */

typedef struct side {
    tdm_strand_grid grid; /* borrows all but lab and score */
    tdm_strand_parts parts;
} side;

/* Places with a little of the other kind make a false third one, near the pure kind they were taken for. */
static bool stands_between(const double dark[3], const double middle[3], const double light[3])
{
    double low[3], between[3], high[3];
    tdm_lab_to_xyz(dark, low);
    tdm_lab_to_xyz(middle, between);
    tdm_lab_to_xyz(light, high);
    const double way = (between[1] - low[1]) / (high[1] - low[1]);
    return way >= least_between && way <= 1 - least_between;
}

static size_t cell_count(const tdm_strand_grid *grid)
{
    return grid->windows * grid->cols;
}

/* Scores every place by an axis that only the pure places of one kind have a say in. */
static void score_all(const tdm_strand_grid *whole, side *of)
{
    double shift = 0, count = 0;
    for (size_t i = 0; i < cell_count(whole); i++) {
        if (!isfinite(of->grid.score[i]))
            continue;
        for (size_t k = 0; k < 3; k++)
            shift += of->grid.axis[k] * whole->lab[3 * i + k];
        shift -= of->grid.score[i];
        count += 1;
    }
    for (size_t i = 0; i < cell_count(whole); i++) {
        double score = -shift / count;
        for (size_t k = 0; k < 3; k++)
            score += of->grid.axis[k] * whole->lab[3 * i + k];
        of->grid.score[i] = score; /* NaN stays NaN */
    }
}

static tdm_code split(const tdm_measure_input *input, const tdm_strand_grid *whole, bool light, side *of,
                      tdm_error *error)
{
    size_t pure = 0;
    for (size_t i = 0; i < cell_count(whole); i++) {
        const double other = light ? 1 - whole->light[i] : whole->light[i];
        const bool keep = other < mixed; /* false for NaN */
        pure += keep;
        for (size_t k = 0; k < 3; k++)
            of->grid.lab[3 * i + k] = keep ? whole->lab[3 * i + k] : (double)NAN;
    }
    of->parts.separable = false;
    if ((double)pure < least_places * (double)cell_count(whole))
        return TDM_OK;
    tdm_code code = tdm_strand_grid_score(&of->grid, error);
    if (code == TDM_OK)
        code = tdm_strand_parts_of(input, &of->grid, &of->parts, error);
    of->parts.separable = of->parts.separable && of->parts.light[0] - of->parts.dark[0] >= least_contrast &&
                          tdm_mixture_separation(&of->parts.mixture) >= least_apart;
    return code;
}

/* Dark hair is base and a middle kind. */
static void darker_two(const tdm_strand_grid *whole, side *of, tdm_strand_parts *parts)
{
    const double rest = 1 - parts->share;
    score_all(whole, of);
    for (size_t i = 0; i < cell_count(whole); i++) {
        if (isfinite(whole->light[i]))
            whole->light[i] +=
                (1 - whole->light[i]) * tdm_partial_expect(&of->parts.partial, of->grid.score[i]);
    }
    memcpy(parts->dark, of->parts.dark, sizeof parts->dark);
    memcpy(parts->middle, of->parts.light, sizeof parts->middle);
    parts->middle_share = rest * of->parts.share;
    parts->middle_u = rest * of->parts.share_u;
    parts->share += parts->middle_share;
    parts->share_u = tdm_quadrature(parts->share_u, parts->middle_u);
}

/* Light hair is a middle kind and the lightest. */
static void lighter_two(const side *of, tdm_strand_parts *parts)
{
    memcpy(parts->light, of->parts.light, sizeof parts->light);
    memcpy(parts->middle, of->parts.dark, sizeof parts->middle);
    parts->middle_share = parts->share * (1 - of->parts.share);
    parts->middle_u = tdm_quadrature(parts->share * of->parts.share_u, parts->share_u);
}

tdm_code tdm_strand_third(const tdm_measure_input *input, const tdm_strand_grid *grid,
                          tdm_strand_parts *parts, tdm_error *error)
{
    if (tdm_mixture_separation(&parts->mixture) < least_first)
        return TDM_OK;
    side of = {.grid = *grid};
    of.grid.lab = malloc(4 * cell_count(grid) * sizeof *of.grid.lab);
    if (!of.grid.lab)
        return tdm_fail_memory(error, NULL);
    of.grid.score = of.grid.lab + 3 * cell_count(grid);
    tdm_code code = split(input, grid, false, &of, error);
    if (code == TDM_OK && of.parts.separable && (1 - parts->share) * of.parts.share >= least_share &&
        stands_between(of.parts.dark, of.parts.light, parts->light)) {
        parts->three = true;
        darker_two(grid, &of, parts);
    } else if (code == TDM_OK) {
        code = split(input, grid, true, &of, error);
        if (code == TDM_OK && of.parts.separable && parts->share * (1 - of.parts.share) >= least_share &&
            stands_between(parts->dark, of.parts.dark, of.parts.light)) {
            parts->three = true;
            lighter_two(&of, parts);
        }
    }
    free(of.grid.lab);
    return code;
}
