/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: the default table, its inverse, the slope that carries uncertainties, the ends. */
#include <math.h>

#include "colour/drawn.h"
#include "colour/level.h"
#include "suite.h"

/* The table as written down, two decimals: 0.006 is its rounding. */
START_TEST(default_table)
{
    double cells[11][5];
    const tdm_level_scale scale = tdm_level_scale_default();
    ck_assert_uint_eq(read_table("hair_level_table.csv", &cells[0][0], 5, 11), 10);
    ck_assert_uint_eq(scale.count, 10);
    for (size_t i = 0; i < 10; i++) {
        ck_assert_double_eq(scale.level[i], cells[i][0]);
        ck_assert_double_eq_tol(scale.lstar[i], cells[i][2], 0.006);
        ck_assert_double_eq_tol(tdm_level_from_lstar(&scale, scale.lstar[i]), cells[i][0], 1e-9);
        /* the class's upper limit lies half-way to the next level */
        if (i + 1 < 10)
            ck_assert_double_eq_tol(tdm_level_from_lstar(&scale, cells[i][4]), cells[i][0] + 0.5, 0.003);
    }
}
END_TEST

/* Between entries the scale is the formula itself, both ways. */
START_TEST(formula_between_entries)
{
    const tdm_level_scale scale = tdm_level_scale_default();
    for (double level = 1; level <= 10; level += 0.07) {
        const double lstar = 16 * pow(66.0 / 16, (level - 1) / 9);
        ck_assert_double_eq_tol(tdm_level_to_lstar(&scale, level), lstar, 1e-9);
        ck_assert_double_eq_tol(tdm_level_from_lstar(&scale, lstar), level, 1e-9);
    }
}
END_TEST

START_TEST(rises_and_holds_at_the_ends)
{
    const tdm_level_scale scale = tdm_level_scale_default();
    double last = 1;
    for (double lstar = -5; lstar <= 110; lstar += 0.5) {
        const double level = tdm_level_from_lstar(&scale, lstar);
        ck_assert(level >= last && level >= 1 && level <= 10);
        ck_assert(lstar <= 16.5 || lstar >= 66 || level > last);
        last = level;
    }
    ck_assert_double_eq(tdm_level_from_lstar(&scale, 5), 1);
    ck_assert_double_eq(tdm_level_from_lstar(&scale, 90), 10);
    ck_assert(isnan(tdm_level_from_lstar(&scale, NAN)));
}
END_TEST

/* Finite difference over 0.002 L*: its own error is under 1e-7. */
START_TEST(slope_is_the_derivative)
{
    const tdm_level_scale scale = tdm_level_scale_default();
    for (double lstar = 17; lstar < 65; lstar += 1.37) {
        const double rise =
            tdm_level_from_lstar(&scale, lstar + 0.001) - tdm_level_from_lstar(&scale, lstar - 0.001);
        ck_assert_double_eq_tol(tdm_level_slope(&scale, lstar), rise / 0.002, 1e-6);
    }
    ck_assert(tdm_level_slope(&scale, 5) > tdm_level_slope(&scale, 16)); /* of the unheld curve */
    ck_assert(tdm_level_slope(&scale, 90) > 0);
    ck_assert(isfinite(tdm_level_slope(&scale, 0)));
}
END_TEST

/* Black and dark brown hair as measured (Scanavez et al. 2000) must fall where the trade puts them: black at
 * 1 to 2, dark brown near 3. */
START_TEST(measured_hair_lands_on_its_level)
{
    const tdm_level_scale scale = tdm_level_scale_default();
    ck_assert_double_gt(tdm_level_from_lstar(&scale, 18.0), 1);
    ck_assert_double_lt(tdm_level_from_lstar(&scale, 18.0), 2);
    /* nearer to 3 than to its neighbours */
    ck_assert_double_eq_tol(tdm_level_from_lstar(&scale, 22.7), 3, 0.5);
    ck_assert_str_eq(tdm_level_name(&scale, tdm_level_from_lstar(&scale, 22.7)), "dark brown");
    ck_assert_str_eq(tdm_level_name(&scale, 4.2), "medium brown");
    ck_assert_str_eq(tdm_level_name(&scale, -3), "black");
    ck_assert_str_eq(tdm_level_name(&scale, 10), "lightest blonde");
}
END_TEST

START_TEST(a_scale_of_two_swatches)
{
    tdm_level_scale scale = {.count = 2, .level = {3, 8}, .lstar = {20, 50}, .name = {"deep", "light"}};
    ck_assert_double_eq_tol(tdm_level_from_lstar(&scale, sqrt(20.0 * 50)), 5.5, 1e-12);
    ck_assert_double_eq(tdm_level_from_lstar(&scale, 10), 3);
    ck_assert_double_eq_tol(tdm_level_to_lstar(&scale, 8), 50, 1e-12);
    ck_assert_str_eq(tdm_level_name(&scale, 7), "light");
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {default_table,
                                  formula_between_entries,
                                  rises_and_holds_at_the_ends,
                                  slope_is_the_derivative,
                                  measured_hair_lands_on_its_level,
                                  a_scale_of_two_swatches,
                                  NULL};
    return run_suite("level", tests);
}
