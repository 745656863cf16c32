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
static const double least_hue = 5;      /* CIELAB units */
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

/* One of three kinds, by lightness. */
typedef struct kind {
    double lab[3], share; /* of all hair */
} kind;

/* Places with a little of the other kind make a false third one, near the pure kind they were taken for; it
 * has the colour that mixing gives. */
static bool stands_between(const kind kinds[3])
{
    double low[3], between[3], high[3];
    tdm_lab_to_xyz(kinds[0].lab, low);
    tdm_lab_to_xyz(kinds[1].lab, between);
    tdm_lab_to_xyz(kinds[2].lab, high);
    const double way = (between[1] - low[1]) / (high[1] - low[1]);
    return way >= least_between && way <= 1 - least_between;
}

/* A middle kind of another hue than any mixture as light as it: no mixing makes it. */
static bool is_no_mixture(const kind kinds[3])
{
    double low[3], between[3], high[3], blend[3], lab[3];
    tdm_lab_to_xyz(kinds[0].lab, low);
    tdm_lab_to_xyz(kinds[1].lab, between);
    tdm_lab_to_xyz(kinds[2].lab, high);
    const double way = fmin(fmax((between[1] - low[1]) / (high[1] - low[1]), 0), 1);
    for (size_t k = 0; k < 3; k++)
        blend[k] = low[k] + way * (high[k] - low[k]);
    tdm_xyz_to_lab(blend, lab);
    return hypot(lab[1] - kinds[1].lab[1], lab[2] - kinds[1].lab[2]) >= least_hue;
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

static kind kind_of(const double lab[3], double share)
{
    return (kind){.lab = {lab[0], lab[1], lab[2]}, .share = share};
}

static int by_lightness(const void *a, const void *b)
{
    const kind *one = a, *other = b;
    return (one->lab[0] > other->lab[0]) - (one->lab[0] < other->lab[0]);
}

/* The two kinds of one side and the other side's, from dark to light; false where they aren't three. */
static bool three_kinds(const tdm_strand_parts *parts, bool light, const side *of, kind kinds[3])
{
    if (!of->parts.separable)
        return false;
    const double own = light ? parts->share : 1 - parts->share, higher = of->parts.share;
    kinds[0] = kind_of(of->parts.dark, own * (1 - higher));
    kinds[1] = kind_of(of->parts.light, own * higher);
    kinds[2] = kind_of(light ? parts->dark : parts->light, 1 - own);
    qsort(kinds, 3, sizeof kinds[0], by_lightness);
    if (!(kinds[1].share >= least_share))
        return false;
    return is_no_mixture(kinds) ||
           (tdm_mixture_separation(&parts->mixture) >= least_first && stands_between(kinds));
}

/* All but the darkest kind is light hair. */
static void mark(const tdm_strand_grid *whole, bool light, side *of, const double darkest[3])
{
    const bool other = memcmp(darkest, of->parts.dark, sizeof of->parts.dark) != 0;
    score_all(whole, of);
    for (size_t i = 0; i < cell_count(whole); i++) {
        if (!isfinite(whole->light[i]))
            continue;
        const double own = light ? whole->light[i] : 1 - whole->light[i];
        const double higher = tdm_partial_expect(&of->parts.partial, of->grid.score[i]);
        whole->light[i] = other ? own : 1 - own * (1 - higher);
    }
}

static void keep(const kind kinds[3], const side *of, tdm_strand_parts *parts)
{
    parts->three = true;
    memcpy(parts->dark, kinds[0].lab, sizeof parts->dark);
    memcpy(parts->middle, kinds[1].lab, sizeof parts->middle);
    memcpy(parts->light, kinds[2].lab, sizeof parts->light);
    parts->share_u = tdm_quadrature(parts->share_u, of->parts.share_u);
    parts->share = kinds[1].share + kinds[2].share;
    parts->middle_share = kinds[1].share;
    parts->middle_u = parts->share_u;
}

tdm_code tdm_strand_third(const tdm_measure_input *input, const tdm_strand_grid *grid,
                          tdm_strand_parts *parts, tdm_error *error)
{
    side of = {.grid = *grid};
    of.grid.lab = malloc(4 * cell_count(grid) * sizeof *of.grid.lab);
    if (!of.grid.lab)
        return tdm_fail_memory(error, NULL);
    of.grid.score = of.grid.lab + 3 * cell_count(grid);
    tdm_code code = TDM_OK;
    for (int light = 0; code == TDM_OK && light < 2 && !parts->three; light++) {
        kind kinds[3];
        code = split(input, grid, light, &of, error);
        if (code == TDM_OK && three_kinds(parts, light, &of, kinds)) {
            mark(grid, light, &of, kinds[0].lab);
            keep(kinds, &of, parts);
        }
    }
    free(of.grid.lab);
    return code;
}
