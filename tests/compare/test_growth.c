/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: growth told of a line that was melted, recoloured or isn't the same one, between two pictures
 * of one visit, or without dates; a line nearer to the root called growth; an uncertainty without the dates'.
 */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "compare/made_reading.h"
#include "measure/budget.h"
#include "suite.h"
#include "tidemark/comparison.h"

static tdm_reading *before, *after;
static tdm_comparison *comparison;

/* Dark to the line, light from it on, as a profile would have it that knows no smoothing. */
static void put_line(struct tdm_zone_reading *zone, double centre, double width)
{
    free(zone->gradient.profile.points);
    made_regrowth(zone, false);
    zone->gradient.centre_mm = (tdm_value){centre, 0.8};
    zone->gradient.width_mm = (tdm_value){width, 1.2};
    for (size_t i = 0; i < zone->gradient.profile.count; i++) {
        tdm_profile_point *point = &zone->gradient.profile.points[i];
        const bool dark = point->along < centre;
        *point = (tdm_profile_point){point->along, {dark ? 26 : 48, dark ? 4 : 9, dark ? 8 : 22}, 0.5};
    }
}

static void change_side(struct tdm_zone_reading *zone, bool lengths, double lighter)
{
    for (size_t i = 0; i < zone->gradient.profile.count; i++) {
        tdm_profile_point *point = &zone->gradient.profile.points[i];
        if ((point->along > zone->gradient.centre_mm.value) == lengths)
            point->lab[0] += lighter;
    }
}

static void make_two(void)
{
    before = made_reading("before.jpg", 1);
    after = made_reading("after.jpg", 1);
    comparison = NULL;
    (void)snprintf(before->taken, sizeof before->taken, "2026-01-05T17:30:00");
    (void)snprintf(after->taken, sizeof after->taken, "2026-03-06T09:10:00");
    put_line(&before->zones[0], 24, 5);
    put_line(&after->zones[0], 43, 6);
}

static void free_two(void)
{
    tdm_comparison_free(comparison);
    tdm_reading_free(before);
    tdm_reading_free(after);
}

static const tdm_growth *growth(void)
{
    tdm_error error = {0};
    tdm_comparison_free(comparison);
    comparison = NULL;
    ck_assert_msg(tdm_compare(before, after, &comparison, &error) == TDM_OK, "%s", error.text);
    return &tdm_comparison_zone(comparison, 0)->growth;
}

static bool warned(const char *code)
{
    size_t count = 0;
    const tdm_warning *warnings = tdm_comparison_warnings(comparison, &count);
    for (size_t i = 0; i < count; i++) {
        if (strcmp(warnings[i].code, code) == 0)
            return true;
    }
    return false;
}

static void check_none(const tdm_growth *found, const char *state)
{
    ck_assert_str_eq(found->state, state);
    ck_assert(isnan(found->mm.value) && isnan(found->mm.u));
    ck_assert(isnan(found->mm_per_month.value) && isnan(found->mm_per_month.u));
    ck_assert_ptr_null(found->pace);
}

/* By hand: 19 mm in 26 + 28 + 6 = 60 days are 19 * 30.44 / 60 = 9.63933 a month. u of 19 is the root of twice
 * 0.8 squared, 1.131371, times 0.507333 a month 0.573982; of the days 2 * 9.63933 * 0.288675 / 60 = 0.092755;
 * together 0.581428. */
START_TEST(growth_by_hand)
{
    const tdm_growth *found = growth();
    ck_assert_str_eq(found->state, "grown");
    ck_assert_double_eq_tol(found->days, 60, 0.5);
    ck_assert_double_eq_tol(found->mm.value, 19, 1e-9);
    ck_assert_double_eq_tol(found->mm.u, 1.131371, 1e-5);
    ck_assert_double_eq_tol(found->mm_per_month.value, 9.63933, 1e-5);
    ck_assert_double_eq_tol(found->mm_per_month.u, 0.581428, 1e-5);
    ck_assert_str_eq(found->pace, "usual");
    ck_assert_str_eq(found->text, "The hair has grown by 19 mm in 60 days: 9.6 mm a month, give or take 0.6, "
                                  "as is usual (8 to 13).");
    ck_assert(!warned("regrowth-out-of-range"));
    const tdm_growth *head = &tdm_comparison_head(comparison)->growth;
    ck_assert_double_eq_tol(head->mm_per_month.value, 9.63933, 1e-5);
    ck_assert_str_eq(head->text, found->text);
}
END_TEST

/* Days are what counts, not hours; a day alone will do. */
START_TEST(one_visit_tells_no_growth)
{
    (void)snprintf(after->taken, sizeof after->taken, "2026-01-05T19:30:00");
    const tdm_growth *found = growth();
    check_none(found, "same-day");
    ck_assert_ptr_null(found->text);
    (void)snprintf(after->taken, sizeof after->taken, "2026-01-18T19:30:00");
    check_none(growth(), "too-soon");
    (void)snprintf(after->taken, sizeof after->taken, "2026-01-19");
    ck_assert_str_eq(growth()->state, "grown");
    ck_assert_double_eq_tol(growth()->days, 14, 0.5);
}
END_TEST

START_TEST(no_dates_no_growth)
{
    after->taken[0] = '\0';
    const tdm_growth *found = growth();
    check_none(found, "no-date");
    ck_assert(isnan(found->days));
    ck_assert_ptr_null(found->text);
}
END_TEST

START_TEST(the_wrong_way_round)
{
    (void)snprintf(after->taken, sizeof after->taken, "2025-12-31T09:00:00");
    const tdm_growth *found = growth();
    check_none(found, "out-of-order");
    ck_assert_double_eq_tol(found->days, -5, 0.5);
    ck_assert(warned("dates-out-of-order"));
}
END_TEST

START_TEST(coloured_in_between)
{
    (void)snprintf(after->coloured_on, sizeof after->coloured_on, "2026-01-06");
    check_none(growth(), "coloured");
    (void)snprintf(after->coloured_on, sizeof after->coloured_on,
                   "2026-01-05"); /* the first is of that visit */
    ck_assert_str_eq(growth()->state, "grown");
}
END_TEST

/* A root melt: 45 mm wide where growth of 19 mm may add 19 / 4. */
START_TEST(a_melt_is_no_growth)
{
    after->zones[0].gradient.width_mm.value = 45;
    const tdm_growth *found = growth();
    check_none(found, "other-width");
    ck_assert_ptr_nonnull(strstr(found->text, "worked on since"));
    after->zones[0].gradient.width_mm.value =
        5 + 1.69 + 4.74; /* u of the change 1.697, a quarter of 19 4.75 */
    ck_assert_str_eq(growth()->state, "grown");
    after->zones[0].gradient.width_mm.value = 5 + 1.70 + 4.76;
    ck_assert_str_eq(growth()->state, "other-width");
    after->zones[0].gradient.width_mm.value = 3.2; /* narrower by more than u */
    ck_assert_str_eq(growth()->state, "other-width");
}
END_TEST

/* u of L* is 1.2 on either side: together with 2.3, 2.86 of CIEDE2000. 12 L* are far more, 1 is less. */
START_TEST(other_hair_beside_the_line)
{
    for (int lengths = 0; lengths < 2; lengths++) {
        free_two();
        make_two();
        change_side(&after->zones[0], lengths == 1, 1);
        ck_assert_str_eq(growth()->state, "grown");
        change_side(&after->zones[0], lengths == 1, 11);
        const tdm_growth *found = growth();
        check_none(found, "other-colours");
        ck_assert_ptr_nonnull(strstr(found->text, "another line"));
    }
}
END_TEST

START_TEST(nearer_to_the_root)
{
    after->zones[0].gradient.centre_mm.value = 12;
    const tdm_growth *found = growth();
    check_none(found, "receded");
    ck_assert_ptr_nonnull(strstr(found->text, "12 mm nearer to the root than 60 days before"));
}
END_TEST

START_TEST(not_beyond_its_uncertainty)
{
    put_line(&after->zones[0], 23.5, 5);
    const tdm_growth *found = growth();
    ck_assert_str_eq(found->state, "unchanged");
    ck_assert_double_eq_tol(found->mm.value, -0.5, 1e-9);
    ck_assert_str_eq(found->pace, "slow");
    ck_assert_ptr_nonnull(strstr(found->text, "no growth beyond what the photographs can tell"));
    ck_assert(warned("regrowth-out-of-range"));
}
END_TEST

/* 40 mm in 60 days are 20.3 a month. */
START_TEST(too_fast_is_flagged)
{
    put_line(&after->zones[0], 64, 6);
    ck_assert_str_eq(growth()->pace, "fast");
    ck_assert_ptr_nonnull(strstr(growth()->text, "20.3 mm a month, give or take 0.6, faster than usual"));
    ck_assert(warned("regrowth-out-of-range"));
}
END_TEST

START_TEST(no_line_or_no_scale)
{
    after->zones[0].demarcation.grade = "none";
    check_none(growth(), "no-line");
    after->zones[0].demarcation.grade = "hard";
    after->zones[0].gradient.shape = "uniform";
    check_none(growth(), "no-line");
    after->zones[0].gradient.shape = "transition";
    after->zones[0].gradient.centre_mm.value = NAN; /* the share is still there */
    check_none(growth(), "no-scale");
}
END_TEST

/* The head is what at least half of its zones tell. */
START_TEST(the_head_of_two_zones)
{
    free_two();
    before = made_reading("before.jpg", 3);
    after = made_reading("after.jpg", 3);
    (void)snprintf(before->taken, sizeof before->taken, "2026-01-05");
    (void)snprintf(after->taken, sizeof after->taken, "2026-03-06");
    for (size_t i = 0; i < 3; i++) {
        put_line(&before->zones[i], 24, 5);
        put_line(&after->zones[i], 42 + 2 * (double)i, 5);
    }
    after->zones[2].demarcation.grade = "none";
    (void)growth();
    const tdm_growth *head = &tdm_comparison_head(comparison)->growth;
    ck_assert_double_eq_tol(head->mm.value, 19, 1e-9); /* of 18 and 20 */
    ck_assert_double_eq_tol(head->mm.u, 1.131371, 1e-5);
    after->zones[1].demarcation.grade = "none";
    (void)growth();
    check_none(&tdm_comparison_head(comparison)->growth, "varies");
    after->zones[0].demarcation.grade = "none";
    (void)growth();
    check_none(&tdm_comparison_head(comparison)->growth, "no-line");
}
END_TEST

int main(void)
{
    TCase *tests = patient_case("growth");
    tcase_add_checked_fixture(tests, make_two, free_two);
    const TTest *const all[] = {growth_by_hand,      one_visit_tells_no_growth,  no_dates_no_growth,
                                the_wrong_way_round, coloured_in_between,        a_melt_is_no_growth,
                                nearer_to_the_root,  other_hair_beside_the_line, not_beyond_its_uncertainty,
                                too_fast_is_flagged, no_line_or_no_scale,        the_head_of_two_zones};
    for (size_t i = 0; i < sizeof all / sizeof all[0]; i++)
        tcase_add_test(tests, all[i]);
    return run_case("growth", tests);
}
