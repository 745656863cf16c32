/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: regular ribbons told from random ones, the period of a stripe, waves laid straight, ribbons
 * that don't hold their places. */
#include <math.h>
#include <string.h>

#include "measure/drawn_grid.h"
#include "measure/ribbon_period.h"
#include "suite.h"

static void find(const drawn_ribbons *ribbons, double length, double cell, tdm_ribbon_period *out)
{
    tdm_strand_grid grid;
    tdm_ribbon_profile profile;
    tdm_error error = {0};
    drawn_grid(ribbons, length, 100, cell, &grid);
    ck_assert_int_eq(tdm_ribbon_straighten(&grid, NULL, cell, &profile, &error), TDM_OK);
    ck_assert_int_eq(tdm_ribbon_period_find(&profile, out, &error), TDM_OK);
    tdm_ribbon_profile_free(&profile);
    tdm_strand_grid_free(&grid);
}

/* 100 draws of each kind, shares of 0.2 to 0.5, 7 to 20 ribbons across: 95 % right. */
START_TEST(regular_is_told_from_random)
{
    unsigned right[2] = {0, 0}, told[2] = {0, 0};
    for (unsigned seed = 0; seed < 200; seed++) {
        drawn_ribbons ribbons = {0};
        tdm_ribbon_period found;
        const bool regular = seed % 2;
        const double pitch = 5 + 0.1 * (seed / 2), share = 0.2 + 0.1 * (seed / 2 % 4);
        drawn_lay(&ribbons, -10, 110, share * pitch, share, regular, seed);
        find(&ribbons, 20, 0.5, &found);
        told[regular] += found.pattern != NULL;
        right[regular] += found.pattern && strcmp(found.pattern, regular ? "regular" : "random") == 0;
    }
    ck_assert_uint_ge(right[1], 95);
    ck_assert_uint_ge(told[0], 95); /* some random draws have too few ribbons to be told */
    ck_assert_uint_ge(20 * right[0], 19 * told[0]);
}
END_TEST

START_TEST(a_stripe_has_its_period)
{
    static const double pitches[] = {3.7, 8, 14.3};
    for (size_t i = 0; i < 3; i++) {
        drawn_ribbons ribbons = {0};
        tdm_ribbon_period found;
        drawn_lay(&ribbons, -10, 110, 0.35 * pitches[i], 0.35, true, (unsigned)i);
        find(&ribbons, 20, 0.5, &found);
        ck_assert_double_eq_tol(found.period, pitches[i], 0.03 * pitches[i]); /* widths differ by 5 % */
        ck_assert_double_gt(found.strength, 0.8);
        ck_assert_str_eq(found.pattern, "regular");
    }
}
END_TEST

/* Waves of twice a ribbon's width on strands aslant; the period is perpendicular to them. */
START_TEST(waves_are_laid_straight)
{
    drawn_ribbons ribbons = {.slope = 0.3, .wave = 5, .wavelength = 60};
    tdm_ribbon_period found;
    drawn_lay(&ribbons, -60, 160, 2.5, 0.35, true, 5);
    find(&ribbons, 60, 0.25, &found);
    ck_assert_str_eq(found.pattern, "regular");
    ck_assert_double_eq_tol(found.period, 2.5 / 0.35 * cos(atan(0.3)), 0.2);
}
END_TEST

START_TEST(too_few_ribbons_are_neither)
{
    drawn_ribbons ribbons = {0};
    tdm_ribbon_period found;
    drawn_lay(&ribbons, -10, 110, 12, 0.35, true, 3);
    find(&ribbons, 20, 0.5, &found);
    ck_assert_ptr_null(found.pattern);
}
END_TEST

/* Each window its own: what is regular in none of them isn't random either. */
START_TEST(ribbons_that_hold_no_place_are_neither)
{
    drawn_ribbons ribbons = {0};
    tdm_strand_grid grid;
    tdm_ribbon_profile profile;
    tdm_ribbon_period found;
    tdm_error error = {0};
    drawn_lay(&ribbons, -10, 110, 2, 0.35, true, 3);
    drawn_grid(&ribbons, 60, 100, 0.25, &grid);
    for (size_t window = 0; window < grid.windows; window++) {
        for (size_t col = 0; col < grid.cols; col++)
            grid.light[window * grid.cols + col] = synthetic_noise((unsigned)window, (unsigned)col / 6) > 0.3;
    }
    ck_assert_int_eq(tdm_ribbon_straighten(&grid, NULL, 0.25, &profile, &error), TDM_OK);
    ck_assert_double_lt(profile.kept, 0.3);
    ck_assert_int_eq(tdm_ribbon_period_find(&profile, &found, &error), TDM_OK);
    ck_assert_ptr_null(found.pattern);
    ck_assert_double_lt(found.strength, 0.2);
    tdm_ribbon_profile_free(&profile);
    tdm_strand_grid_free(&grid);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {regular_is_told_from_random,
                                  a_stripe_has_its_period,
                                  waves_are_laid_straight,
                                  too_few_ribbons_are_neither,
                                  ribbons_that_hold_no_place_are_neither,
                                  NULL};
    return run_suite("ribbon period", tests);
}
