/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: share and contrast of two kinds whose places mix in linear light, counts that lose places, a
 * split of uniform or shaded hair, a third kind missed, or made of mixed places. */
#include <math.h>
#include <stdlib.h>

#include "colour/lab.h"
#include "measure/strand_parts.h"
#include "measure/strand_third.h"
#include "measure/synthetic.h"
#include "suite.h"

/* 25 windows of 2 mm by 200 columns of 0.25 mm. */
enum { WINDOWS = 25, COLS = 200, PLACES = WINDOWS * COLS };

static const double base[] = {30, 4, 8}, bright[] = {50, 6, 20};

/* What places hold: pure dark, a middle kind, mixed places of every proportion between dark and light, and
 * the rest pure light. */
typedef struct drawing {
    const double *dark, *middle, *light;
    double of_dark, of_middle, of_mixed;
    double shade; /* relative sd of the light that reaches a place */
} drawing;

static void plain(double s, double t, const void *about, double lab[3])
{
    (void)s, (void)t, (void)about;
    for (int k = 0; k < 3; k++)
        lab[k] = base[k];
}

/* Which of the places: a permutation, since 1009 and 5000 share no factor. */
static void colour_of(const drawing *of, unsigned i, double xyz[3])
{
    double low[3], high[3];
    const double kind = (i * 1009 % PLACES + 0.5) / PLACES, mixed_from = of->of_dark + of->of_middle;
    const bool is_middle = kind >= of->of_dark && kind < mixed_from;
    double light = 0;
    if (kind >= mixed_from)
        light = of->of_mixed > 0 ? fmin((kind - mixed_from) / of->of_mixed, 1) : 1;
    tdm_lab_to_xyz(is_middle ? of->middle : of->dark, low);
    tdm_lab_to_xyz(of->light, high);
    for (int k = 0; k < 3; k++)
        xyz[k] = (low[k] + light * (high[k] - low[k])) * exp(of->shade * synthetic_noise(i, 9));
}

static void draw(const drawing *of, synthetic_zone *zone, tdm_strand_grid *grid)
{
    tdm_error error = {0};
    synthetic_zone_make(synthetic_strip(2 * WINDOWS, 0.25 * COLS, plain, NULL), zone);
    *grid = (tdm_strand_grid){
        .windows = WINDOWS, .cols = COLS, .window = 2, .to = 2 * WINDOWS, .axis = {1, 0, 0}};
    grid->lab = calloc(3 * PLACES, sizeof *grid->lab);
    grid->score = calloc(PLACES, sizeof *grid->score);
    grid->light = calloc(PLACES, sizeof *grid->light);
    ck_assert(grid->lab && grid->score && grid->light);
    for (unsigned i = 0; i < PLACES; i++) {
        double xyz[3];
        colour_of(of, i, xyz);
        tdm_xyz_to_lab(xyz, grid->lab + 3 * i);
        for (unsigned k = 0; k < 3; k++) /* the camera's, a fifth of a unit */
            grid->lab[3 * i + k] += 0.2 * synthetic_noise(i, 20 + k);
    }
    ck_assert_int_eq(tdm_strand_grid_score(grid, &error), TDM_OK);
}

static void clear(synthetic_zone *zone, tdm_strand_grid *grid)
{
    free(grid->lab);
    free(grid->score);
    free(grid->light);
    synthetic_zone_free(zone);
}

static tdm_strand_parts parts_of(const drawing *of, bool third)
{
    synthetic_zone zone;
    tdm_strand_grid grid;
    tdm_strand_parts parts;
    tdm_error error = {0};
    draw(of, &zone, &grid);
    ck_assert_int_eq(tdm_strand_parts_of(&zone.input, &grid, &parts, &error), TDM_OK);
    if (third) {
        ck_assert(parts.separable);
        tdm_strand_parts_mark(&parts, &grid);
        ck_assert_int_eq(tdm_strand_third(&zone.input, &grid, &parts, &error), TDM_OK);
    }
    clear(&zone, &grid);
    return parts;
}

/* Light hair is pure light and half of the evenly mixed. 0.03 of share and 5 % of contrast are the
 * instrument's aims. */
START_TEST(share_and_contrast_of_drawn_mixtures)
{
    static const double darks[] = {0.7, 0.5, 0.35}, mixes[] = {0.1, 0.2, 0.3}, shades[] = {0.03, 0.05, 0.08};
    for (int i = 0; i < 3; i++) {
        const drawing of = {
            .dark = base, .light = bright, .of_dark = darks[i], .of_mixed = mixes[i], .shade = shades[i]};
        const tdm_strand_parts parts = parts_of(&of, false);
        ck_assert(parts.separable);
        ck_assert_double_eq_tol(parts.share, 1 - darks[i] - 0.5 * mixes[i], 0.03);
        ck_assert_double_eq_tol(parts.light[0] - parts.dark[0], 20, 1);
        ck_assert(parts.share_u > 0 && parts.share_u < 0.1);
    }
}
END_TEST

START_TEST(uniform_hair_is_of_one_kind)
{
    const drawing of = {.dark = base, .light = base, .of_dark = 1, .shade = 0.05};
    const tdm_strand_parts parts = parts_of(&of, false);
    ck_assert(!parts.separable);
    ck_assert(isnan(parts.share));
}
END_TEST

/* Two clear populations, one with 0.4 of the other's light: bimodal, and yet one kind of hair. */
START_TEST(shade_alone_is_of_one_kind)
{
    double xyz[3], dim[3];
    tdm_lab_to_xyz(bright, xyz);
    for (int k = 0; k < 3; k++)
        xyz[k] *= 0.4;
    tdm_xyz_to_lab(xyz, dim);
    const drawing of = {.dark = dim, .light = bright, .of_dark = 0.6, .shade = 0.04};
    const tdm_strand_parts parts = parts_of(&of, false);
    ck_assert(!parts.separable);
    ck_assert(isnan(parts.share));
}
END_TEST

START_TEST(three_kinds_far_apart_are_three)
{
    const double lightest[] = {68, 4, 28};
    const drawing of = {
        .dark = base, .middle = bright, .light = lightest, .of_dark = 0.5, .of_middle = 0.25, .shade = 0.03};
    const tdm_strand_parts parts = parts_of(&of, true);
    ck_assert(parts.three);
    ck_assert_double_eq_tol(parts.middle_share, 0.25, 0.05);
    ck_assert_double_eq_tol(parts.share, 0.5, 0.05);
    ck_assert_double_eq_tol(parts.middle[0], bright[0], 2); /* a tenth of the way to its neighbours */
}
END_TEST

/* Holds up to a fifth of all places. Known limit: with two fifths, evenly mixed, and little shade, a rest of
 * mixing is still taken for a third kind of 0.04 to 0.09. */
START_TEST(mixed_places_are_no_third_kind)
{
    static const double shades[] = {0.02, 0.04, 0.08};
    for (int i = 0; i < 3; i++) {
        const drawing of = {
            .dark = base, .light = bright, .of_dark = 0.4, .of_mixed = 0.2, .shade = shades[i]};
        ck_assert(!parts_of(&of, true).three);
    }
}
END_TEST

/* Every place is counted once, at its score; a place without hair isn't. */
START_TEST(counts_hold_every_place)
{
    synthetic_zone zone;
    tdm_strand_grid grid;
    tdm_strand_counts counts;
    tdm_error error = {0};
    const drawing of = {.dark = base, .light = bright, .of_dark = 0.6, .shade = 0.04};
    draw(&of, &zone, &grid);
    grid.score[7] = NAN;
    grid.score[8] = 1000; /* beyond the last bin */
    ck_assert_int_eq(tdm_strand_counts_make(&zone.input, &grid, &counts, &error), TDM_OK);
    double whole = 0, light = 0, true_light = 0;
    for (size_t i = 0; i < TDM_TENTHS; i++) {
        double blocks = 0;
        for (size_t block = 0; block < counts.block_count; block++)
            blocks += counts.blocks[block * TDM_TENTHS + i];
        ck_assert_double_eq(blocks, counts.whole[i]);
        whole += counts.whole[i];
        light += counts.xyz[3 * i + 1];
    }
    for (size_t i = 0; i < PLACES; i++) {
        double xyz[3];
        tdm_lab_to_xyz(grid.lab + 3 * i, xyz);
        true_light += i == 7 ? 0 : xyz[1];
    }
    ck_assert_double_eq(whole, PLACES - 1);
    ck_assert_double_eq(counts.total, PLACES - 1);
    ck_assert_double_ge(counts.whole[TDM_TENTHS - 1], 1);
    ck_assert_double_eq_tol(light, true_light, 1e-9 * true_light); /* rounding of sums */
    tdm_strand_counts_free(&counts);
    clear(&zone, &grid);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {share_and_contrast_of_drawn_mixtures,
                                  uniform_hair_is_of_one_kind,
                                  shade_alone_is_of_one_kind,
                                  three_kinds_far_apart_are_three,
                                  mixed_places_are_no_third_kind,
                                  counts_hold_every_place,
                                  NULL};
    return run_suite("strand_parts", tests);
}
