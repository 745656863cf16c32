/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: differences turned round, uncertainties added instead of combined, a null taken for zero. */
#include <math.h>
#include <string.h>

#include "compare/made_reading.h"
#include "suite.h"
#include "tidemark/comparison.h"

static tdm_reading *before, *after;
static tdm_zone_change pair;

static void make_pair(void)
{
    before = made_reading("before.jpg", 1);
    after = made_reading("after.jpg", 1);
    pair = (tdm_zone_change){.before = &before->zones[0], .after = &after->zones[0], .meaning = NULL};
}

static void free_pair(void)
{
    tdm_reading_free(before);
    tdm_reading_free(after);
}

/* 0.3 and 0.4 in quadrature are 0.5 exactly; 1e-12 is rounding alone. */
START_TEST(value_is_after_minus_before)
{
    before->zones[0].root.level = (tdm_value){.value = 4.0, .u = 0.3};
    after->zones[0].root.level = (tdm_value){.value = 5.25, .u = 0.4};
    tdm_value found = {0};
    ck_assert(tdm_change(&pair, tdm_figure_find("root.level"), &found));
    ck_assert_double_eq_tol(found.value, 1.25, 1e-12);
    ck_assert_double_eq_tol(found.u, 0.5, 1e-12);
}
END_TEST

START_TEST(unknown_uncertainty_stays_unknown)
{
    before->zones[0].root.level = (tdm_value){.value = 4.0, .u = INFINITY};
    after->zones[0].root.level = (tdm_value){.value = 5.25, .u = NAN};
    tdm_value found = {0};
    ck_assert(tdm_change(&pair, tdm_figure_find("root.level"), &found));
    ck_assert_double_eq_tol(found.value, 1.25, 1e-12);
    ck_assert(isnan(found.u));
}
END_TEST

START_TEST(number_has_no_uncertainty)
{
    before->zones[0].strands.ribbon_median = 5;
    after->zones[0].strands.ribbon_median = 3;
    tdm_value found = {0};
    ck_assert(tdm_change(&pair, tdm_figure_find("strands.ribbon_mm.median"), &found));
    ck_assert_double_eq_tol(found.value, -2, 1e-12);
    ck_assert(isnan(found.u));
}
END_TEST

/* Pair 1 of Sharma, Wu and Dalal (2005), "The CIEDE2000 color-difference formula", table 1: 2.0425, printed
 * to four decimals. */
START_TEST(colour_is_ciede2000)
{
    memcpy(before->zones[0].root.lab, (const double[3]){50, 2.6772, -79.7751}, sizeof(double[3]));
    memcpy(after->zones[0].root.lab, (const double[3]){50, 0, -82.7485}, sizeof(double[3]));
    tdm_value found = {0};
    ck_assert(tdm_change(&pair, tdm_figure_find("root.lab"), &found));
    ck_assert_double_eq_tol(found.value, 2.0425, 1e-4);
    ck_assert(isnan(found.u));
}
END_TEST

START_TEST(null_on_a_side_has_no_change)
{
    tdm_value found = {.value = 7, .u = 7};
    before->zones[0].root.level = (tdm_value){.value = 4.0, .u = 0.3};
    memcpy(after->zones[0].root.lab, (const double[3]){50, 0, 0}, sizeof(double[3]));
    before->zones[0].gradient.shape = after->zones[0].gradient.shape = "ramp";
    ck_assert(!tdm_change(&pair, tdm_figure_find("root.level"), &found));
    ck_assert(!tdm_change(&pair, tdm_figure_find("root.lab"), &found));
    ck_assert(!tdm_change(&pair, tdm_figure_find("gradient.shape"), &found));
    ck_assert(!tdm_change(&pair, tdm_figure_find("gradient.profile"), &found));
    ck_assert_double_eq_tol(found.value, 7, 1e-12);
}
END_TEST

/* Every row of the figures' table goes through, whatever is added to it. */
START_TEST(no_change_between_twins)
{
    size_t count = 0, seen = 0;
    const tdm_figure *figures = tdm_figures(&count);
    made_fill(&before->zones[0]);
    made_fill(&after->zones[0]);
    for (size_t i = 0; i < count; i++) {
        tdm_value found = {0};
        const bool has = figures[i].kind == TDM_FIGURE_VALUE || figures[i].kind == TDM_FIGURE_NUMBER ||
                         figures[i].kind == TDM_FIGURE_LAB;
        ck_assert_msg(tdm_change(&pair, &figures[i], &found) == has, "%s", figures[i].path);
        if (!has)
            continue;
        ck_assert_double_eq_tol(found.value, 0, 1e-12);
        seen++;
    }
    ck_assert_uint_gt(seen, 20);
}
END_TEST

int main(void)
{
    TCase *tests = patient_case("change");
    tcase_add_checked_fixture(tests, make_pair, free_pair);
    tcase_add_test(tests, value_is_after_minus_before);
    tcase_add_test(tests, unknown_uncertainty_stays_unknown);
    tcase_add_test(tests, number_has_no_uncertainty);
    tcase_add_test(tests, colour_is_ciede2000);
    tcase_add_test(tests, null_on_a_side_has_no_change);
    tcase_add_test(tests, no_change_between_twins);
    return run_case("change", tests);
}
