/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: parts added instead of joined in quadrature, k = 1 shown as k = 2, a figure's parts found
 * under another, light and gloss that move L* by other than CIE's formula says. */
#include <math.h>
#include <string.h>

#include "measure/budget.h"
#include "suite.h"

/* L* of a neutral of luminance Y, by ISO/CIE 11664-4, apart from the code under test. */
static double lstar(double y)
{
    return 116 * cbrt(y) - 16;
}

static double luminance(double l)
{
    return pow((l + 16) / 116, 3);
}

START_TEST(parts_join_in_quadrature)
{
    struct tdm_zone_reading zone;
    tdm_zone_reading_init(&zone);
    const tdm_budget parts = {.part = {[TDM_PART_SAMPLING] = 3, [TDM_PART_LIGHT] = 4}};
    tdm_put(&zone, &zone.gradient.width_mm, 20, &parts);
    ck_assert_double_eq_tol(zone.gradient.width_mm.u, 10, 1e-12); /* 2 × hypot(3, 4) */
    tdm_budget found;
    ck_assert(tdm_zone_budget(&zone, tdm_figure_find("gradient.width_mm"), &found));
    ck_assert_double_eq(found.part[TDM_PART_LIGHT], 4);
    ck_assert(!tdm_zone_budget(&zone, tdm_figure_find("gradient.centre_mm"), &found)); /* null */
    ck_assert(!tdm_zone_budget(&zone, tdm_figure_find("width_mm"), &found));           /* has no u */
    tdm_zone_reading_clear(&zone);
}
END_TEST

START_TEST(every_part_has_its_own_word)
{
    for (int i = 0; i < TDM_PARTS; i++) {
        ck_assert_uint_gt(strlen(tdm_part_word((tdm_part)i)), 0);
        for (int j = 0; j < i; j++)
            ck_assert_str_ne(tdm_part_word((tdm_part)i), tdm_part_word((tdm_part)j));
    }
}
END_TEST

/* Against finite differences of CIE's formula: a hundredth of a stop, and white light.
 * The tolerance leaves room for the formula's curvature: 1e-4 for the stop. */
START_TEST(light_and_gloss_move_lightness_as_cie_says)
{
    const double hair = 26;
    const tdm_sources light = {.stops = 0.01};
    const tdm_budget by_light = tdm_lightness_budget(&light, hair, 0, 0);
    ck_assert_double_eq_tol(by_light.part[TDM_PART_LIGHT], lstar(luminance(hair) * exp2(0.01)) - hair, 2e-4);
    const double added = luminance(26.3) - luminance(26), shine[] = {0.01 * added, added};
    for (int i = 0; i < 2; i++) {
        const tdm_budget parts =
            tdm_lightness_budget(&(tdm_sources){0}, lstar(luminance(26) + shine[i]), 0, shine[i]);
        ck_assert_double_eq_tol(parts.part[TDM_PART_GLOSS], lstar(luminance(26) + shine[i]) - 26, 1e-9);
    }
}
END_TEST

/* A contrast of 10 at L* 40: the light between two places of one zone changes both by one factor. */
START_TEST(a_difference_scales_with_the_light)
{
    const tdm_sources sources = {.stops = 0.01, .lstar = 0.56};
    const tdm_budget parts = tdm_difference_budget(&sources, 40, 10, 0, 0);
    const double wider =
        lstar(luminance(40) * exp2(0.01)) - lstar(luminance(30) * exp2(0.01)); /* L* 40 and 30 under it */
    ck_assert_double_eq_tol(parts.part[TDM_PART_LIGHT], wider - 10, 1e-4);
    ck_assert_double_eq_tol(parts.part[TDM_PART_CALIBRATION], 0.1, 1e-9); /* 0.56 of 56, of 10 */
}
END_TEST

/* White light added to L* 30 and 40 alike takes from their difference. */
START_TEST(gloss_takes_from_a_difference)
{
    const double shine = 0.01, high = lstar(luminance(40) + shine), low = lstar(luminance(30) + shine);
    const tdm_budget parts = tdm_difference_budget(&(tdm_sources){0}, high, high - low, 0, shine);
    ck_assert_double_eq_tol(parts.part[TDM_PART_GLOSS], 10 - (high - low), 1e-9);
}
END_TEST

START_TEST(a_length_takes_its_share_of_the_scale)
{
    const tdm_sources sources = {.scale = 0.01, .plane = 0.02};
    const tdm_budget parts = tdm_length_budget(&sources, 50, 0.3);
    ck_assert_double_eq_tol(parts.part[TDM_PART_SCALE], 0.5, 1e-12);
    ck_assert_double_eq_tol(parts.part[TDM_PART_PLANE], 1, 1e-12);
    ck_assert_double_eq_tol(parts.part[TDM_PART_SAMPLING], 0.3, 1e-12);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {parts_join_in_quadrature,
                                  every_part_has_its_own_word,
                                  light_and_gloss_move_lightness_as_cie_says,
                                  a_difference_scales_with_the_light,
                                  gloss_takes_from_a_difference,
                                  a_length_takes_its_share_of_the_scale,
                                  NULL};
    return run_suite("budget", tests);
}
