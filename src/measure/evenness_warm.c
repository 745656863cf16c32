/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Warm patches: places further towards orange than their row and column make them, by more than other light,
 * shine or more of the light hair there explains. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "colour/lab.h"
#include "measure/budget.h"
#include "measure/evenness_causes.h"
#include "measure/evenness_grid.h"
#include "measure/spread.h"
#include "measure/squares.h"

/* All choices. */
static const double window_mm = 7.5;
enum { STEPS = 3, ROUNDS = 3 };
static const double sure = 4;           /* robust standard deviations of the zone's own scatter */
static const double sure_mean = 3;      /* likewise, of a patch's mean once causes have had theirs */
static const double likely = 2;         /* likewise: to be left out of what is usual */
static const double chance_share = 0.3; /* of light strands, more or less in a window's width */
static const double mostly_light =
    0.5;                          /* warmth a unit of L*: below it a place is light or dark first of all */
static const double least_mm = 5; /* along and across */
/* What the window's size over a patch's takes off it, and what shade does: standard uncertainties, relative.
 */
static const double window_left = 0.25, shade_left = 0.15;
static const double middle = 0.8; /* of its greatest warmth that its middle has */
static const double edge = 0.5;   /* of its greatest warmth a patch has at its edge */

typedef struct slope {
    double of, weight;
} slope;

typedef struct map {
    tdm_even_grid grid;
    double *warmth, *lighter; /* towards orange, and in L*; NaN where nothing is known */
    double *scratch;
    slope *slopes;
    uint8_t *mark;
    size_t *queue;
    double side; /* of a square, in the strip's units: from one window to the next */
} map;

static bool allocate(map *out)
{
    const size_t count = out->grid.rows * out->grid.cols + 1;
    out->warmth = calloc(count, sizeof *out->warmth);
    out->lighter = calloc(count, sizeof *out->lighter);
    out->scratch = calloc(count, sizeof *out->scratch);
    out->slopes = calloc(count, sizeof *out->slopes);
    out->mark = calloc(count, sizeof *out->mark);
    out->queue = calloc(count, sizeof *out->queue);
    return out->warmth && out->lighter && out->scratch && out->slopes && out->mark && out->queue;
}

static void release(map *of)
{
    tdm_even_grid_free(&of->grid);
    free(of->warmth);
    free(of->lighter);
    free(of->scratch);
    free(of->slopes);
    free(of->mark);
    free(of->queue);
}

static int by_slope(const void *a, const void *b)
{
    const slope *one = a, *other = b;
    return (one->of > other->of) - (one->of < other->of);
}

/* The line through nought with the least absolute differences: the weighted median of the slopes. */
static double steepness(slope *slopes, size_t count)
{
    double whole = 0, sum = 0;
    qsort(slopes, count, sizeof *slopes, by_slope);
    for (size_t i = 0; i < count; i++)
        whole += slopes[i].weight;
    for (size_t i = 0; i < count; i++) {
        sum += slopes[i].weight;
        if (2 * sum >= whole)
            return slopes[i].of;
    }
    return 0;
}

/* Fills warmth: how much further towards orange a window is than windows so much lighter are in this zone,
 * whatever makes them so. Its scatter, without what is marked. */
static double fill(map *of)
{
    const size_t count = of->grid.rows * of->grid.cols;
    size_t known = 0;
    for (size_t i = 0; i < count; i++) {
        double own[3], usual[3];
        of->warmth[i] = of->lighter[i] = NAN;
        if (!tdm_even_known(&of->grid, i))
            continue;
        tdm_xyz_to_lab(of->grid.own + 3 * i, own);
        tdm_xyz_to_lab(of->grid.usual + 3 * i, usual);
        of->lighter[i] = own[0] - usual[0];
        of->warmth[i] = tdm_towards_orange(own, usual);
        if (!of->mark[i] && fabs(of->lighter[i]) > 0)
            of->slopes[known++] = (slope){of->warmth[i] / of->lighter[i], fabs(of->lighter[i])};
    }
    const double steep = steepness(of->slopes, known);
    known = 0;
    for (size_t i = 0; i < count; i++) {
        of->warmth[i] -= steep * of->lighter[i];
        if (isfinite(of->warmth[i]) && !of->mark[i])
            of->scratch[known++] = of->warmth[i];
    }
    return known > 0 ? tdm_robust_sd(of->scratch, known) : NAN;
}

/* A patch, warm or cool, that takes a good part of its rows or columns shifts their medians: what is likely
 * one is left out and the rest looked at again. */
static tdm_code settle(map *of, double *sd, tdm_error *error)
{
    const size_t count = of->grid.rows * of->grid.cols;
    tdm_code code = TDM_OK;
    *sd = fill(of);
    for (int round = 0; code == TDM_OK && round < ROUNDS; round++) {
        for (size_t i = 0; i < count; i++)
            of->mark[i] = fabs(of->warmth[i]) >= fmax(likely * *sd, TDM_JND_LAB / 2); /* false for NaN */
        code = tdm_even_grid_without(&of->grid, of->mark, error);
        if (code == TDM_OK)
            *sd = fill(of);
    }
    return code;
}

/* The warmest square that no patch has taken yet; one past the last where there is none. */
static size_t peak_of(const map *of)
{
    const size_t count = of->grid.rows * of->grid.cols;
    size_t found = count;
    for (size_t i = 0; i < count; i++) {
        if (isfinite(of->warmth[i]) && (found == count || of->warmth[i] > of->warmth[found]))
            found = i;
    }
    return found;
}

/* All about the peak that is at least so warm. */
static tdm_square_group about(map *of, size_t peak, double least)
{
    tdm_squares squares = {of->grid.rows, of->grid.cols, of->side, of->mark, of->queue};
    for (size_t i = 0; i < of->grid.rows * of->grid.cols; i++)
        of->mark[i] = of->warmth[i] >= least; /* false for NaN */
    return tdm_squares_gather(&squares, peak);
}

/* A window is named by its first square: its middle lies a square further. */
static tdm_place place_of(const tdm_strip *strip, const map *of, tdm_square_group found)
{
    enum { ASIDE = STEPS / 2 };
    found.top += ASIDE;
    found.bottom += ASIDE;
    found.left += ASIDE;
    found.right += ASIDE;
    return tdm_square_place(strip, of->side, &found);
}

/* The means of a group's light. */
typedef struct patch {
    double own[3], usual[3];
    tdm_place place;
} patch;

static patch patch_of(const tdm_strip *strip, const map *of, const tdm_square_group *found)
{
    patch out = {.place = place_of(strip, of, *found)};
    for (size_t i = 0; i < found->count; i++) {
        for (size_t k = 0; k < 3; k++) {
            out.own[k] += of->grid.own[3 * found->members[i] + k] / (double)found->count;
            out.usual[k] += of->grid.usual[3 * found->members[i] + k] / (double)found->count;
        }
    }
    return out;
}

/* Large enough, warmer by more than chance, and not lighter or darker first of all. */
static bool is_patch(const tdm_warm_causes *may, const patch *it, double least, double warmth)
{
    double own[3], usual[3];
    const double side = fmin(it->place.length_mm, it->place.width_mm);
    tdm_xyz_to_lab(it->own, own);
    tdm_xyz_to_lab(it->usual, usual);
    return side >= least_mm && warmth >= least && warmth >= mostly_light * fabs(own[0] - usual[0]) &&
           tdm_warmth_past_chance(may, it->own, it->usual,
                                  chance_share * window_mm / fmax(side, window_mm)) >= least;
}

typedef struct warmest {
    double warmth, lightness, lost; /* lost: share of it that window and shade may have taken */
} warmest;

/* The warmth of its middle: its edge, half as warm, is no measure of it. */
static warmest middle_of(const tdm_strip *strip, const tdm_warm_causes *may, map *of, size_t peak,
                         const tdm_place *whole)
{
    double usual[3];
    const tdm_square_group found = about(of, peak, middle * of->warmth[peak]);
    const patch it = patch_of(strip, of, &found);
    tdm_xyz_to_lab(it.usual, usual);
    return (warmest){
        tdm_warmth_left(may, it.own, it.usual), usual[0],
        tdm_quadrature(window_left * window_mm / fmin(whole->length_mm, whole->width_mm), shade_left)};
}

/* Takes what lies about the peak off the map, and tells it where it is a patch. */
static void take(const tdm_strip *strip, const tdm_warm_causes *may, map *of, size_t peak, double least,
                 double surely, tdm_places *out, warmest *most)
{
    const double half = edge * of->warmth[peak];
    const tdm_square_group found = about(of, peak, half);
    const patch it = patch_of(strip, of, &found);
    if (is_patch(may, &it, surely, tdm_warmth_left(may, it.own, it.usual))) {
        const warmest here = middle_of(strip, may, of, peak, &it.place);
        out->items[out->count++] = it.place;
        if (here.warmth > most->warmth)
            *most = here;
    }
    const tdm_square_group whole = about(of, peak, fmin(half, least));
    for (size_t i = 0; i < whole.count; i++)
        of->warmth[whole.members[i]] = NAN;
}

static tdm_code find(const tdm_measure_input *input, map *of, struct tdm_zone_reading *out, tdm_error *error)
{
    const tdm_warm_causes may = tdm_warm_causes_of(input, out);
    const size_t count = of->grid.rows * of->grid.cols;
    tdm_places *warm = &out->evenness.warm;
    warmest most = {0, 0, 0};
    double sd = NAN;
    warm->items = calloc(count + 1, sizeof *warm->items);
    const tdm_code code = warm->items ? settle(of, &sd, error) : tdm_fail_memory(error, NULL);
    if (code != TDM_OK)
        return code;
    const double least = fmax(TDM_JND_LAB, sure * sd), surely = fmax(TDM_JND_LAB, sure_mean * sd);
    for (size_t peak = peak_of(of); peak < count && of->warmth[peak] >= least; peak = peak_of(of))
        take(input->strip, &may, of, peak, least, surely, warm, &most);
    out->evenness.warm_count = (double)warm->count;
    tdm_places_sort(warm);
    if (warm->count > 0) {
        tdm_budget parts = tdm_difference_budget(input->sources, most.lightness, most.warmth, sd, 0);
        parts.part[TDM_PART_METHOD] = most.lost * most.warmth;
        tdm_put(out, &out->evenness.warmth, most.warmth, &parts);
    }
    return TDM_OK;
}

tdm_code tdm_even_warm(const tdm_measure_input *input, struct tdm_zone_reading *out, tdm_error *error)
{
    const tdm_even_lay lay = tdm_even_lay_of(input, out, window_mm, STEPS);
    map windows = {.side = (double)lay.step * input->strip->cell};
    tdm_code code = tdm_even_grid_make(input->strip, &lay, &windows.grid, error);
    if (code == TDM_OK)
        code = allocate(&windows) ? find(input, &windows, out, error) : tdm_fail_memory(error, NULL);
    release(&windows);
    return code;
}
