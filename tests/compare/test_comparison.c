/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: zones paired by order instead of name, a lonely zone passed over in silence, set-ups that
 * differ compared as if they were one. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "compare/made_reading.h"
#include "suite.h"
#include "tidemark/comparison.h"

static tdm_reading *before, *after;
static tdm_comparison *comparison;

static void make_two(void)
{
    before = made_reading("before.jpg", 3);
    after = made_reading("after.jpg", 3);
    comparison = NULL;
}

static void free_two(void)
{
    tdm_comparison_free(comparison);
    tdm_reading_free(before);
    tdm_reading_free(after);
}

static void rename_zone(struct tdm_zone_reading *zone, const char *name)
{
    free(zone->name);
    zone->name = made_copy(name);
}

static void compare_them(void)
{
    tdm_error error = {0};
    ck_assert_msg(tdm_compare(before, after, &comparison, &error) == TDM_OK, "%s", error.text);
}

/* The zone of the only warning of that code; fails where there isn't exactly one. */
static const char *only_warning(const char *code)
{
    size_t count = 0, found = 0;
    const char *zone = NULL;
    const tdm_warning *warnings = tdm_comparison_warnings(comparison, &count);
    for (size_t i = 0; i < count; i++) {
        if (strcmp(warnings[i].code, code) != 0)
            continue;
        zone = warnings[i].zone;
        found++;
    }
    ck_assert_msg(found == 1, "%zu warnings of code %s", found, code);
    return zone;
}

static size_t warning_count(void)
{
    size_t count = 0;
    (void)tdm_comparison_warnings(comparison, &count);
    return count;
}

START_TEST(pairs_by_name)
{
    rename_zone(&after->zones[0], "zone 3");
    rename_zone(&after->zones[2], "zone 1");
    compare_them();
    ck_assert_uint_eq(tdm_comparison_zone_count(comparison), 3);
    for (size_t i = 0; i < 3; i++) {
        const tdm_zone_change *change = tdm_comparison_zone(comparison, i);
        ck_assert_ptr_eq(change->before, &before->zones[i]);
        ck_assert_ptr_eq(change->after, &after->zones[2 - i]);
        ck_assert_ptr_nonnull(change->meaning);
    }
    ck_assert_ptr_null(tdm_comparison_zone(comparison, 3));
    ck_assert_ptr_eq(tdm_comparison_head(comparison)->before, &before->head);
    ck_assert_ptr_eq(tdm_comparison_head(comparison)->after, &after->head);
    ck_assert_ptr_eq(tdm_comparison_before(comparison), before);
    ck_assert_ptr_eq(tdm_comparison_after(comparison), after);
    ck_assert_uint_eq(warning_count(), 0);
}
END_TEST

START_TEST(names_must_be_exact)
{
    rename_zone(&after->zones[1], "Zone 2");
    compare_them();
    ck_assert_uint_eq(tdm_comparison_zone_count(comparison), 2);
    ck_assert_str_eq(only_warning("zone-only-before"), "zone 2");
    ck_assert_str_eq(only_warning("zone-only-after"), "Zone 2");
    ck_assert_uint_eq(warning_count(), 2);
}
END_TEST

START_TEST(nothing_in_common_is_unusable)
{
    tdm_error error = {0};
    for (size_t i = 0; i < 3; i++)
        after->zones[i].name[0] = 'Z';
    ck_assert_int_eq(tdm_compare(before, after, &comparison, &error), TDM_ERR_UNUSABLE);
    ck_assert_ptr_null(comparison);
    ck_assert_int_eq(error.code, TDM_ERR_UNUSABLE);
    ck_assert_ptr_nonnull(strstr(error.text, "no zone"));
}
END_TEST

START_TEST(calibration_that_differs)
{
    after->calibration.method = TDM_CALIBRATION_GREY;
    compare_them();
    ck_assert_ptr_null(only_warning("calibration-differs"));
    ck_assert_uint_eq(warning_count(), 1);
}
END_TEST

START_TEST(scale_that_differs)
{
    after->mm_per_px = 0.21;
    compare_them();
    ck_assert_ptr_null(only_warning("scale-differs"));
}
END_TEST

/* The limit is a factor of two, either way round. */
START_TEST(scale_that_differs_little)
{
    before->mm_per_px = 0.2;
    compare_them();
    ck_assert_uint_eq(warning_count(), 0);
}
END_TEST

START_TEST(scale_in_one_alone)
{
    before->mm_per_px = NAN;
    compare_them();
    ck_assert_ptr_null(only_warning("scale-only-one"));
    ck_assert_uint_eq(warning_count(), 1);
}
END_TEST

START_TEST(scale_in_neither)
{
    before->mm_per_px = after->mm_per_px = NAN;
    compare_them();
    ck_assert_uint_eq(warning_count(), 0);
}
END_TEST

START_TEST(level_scale_that_differs)
{
    (void)snprintf(after->scale.note, sizeof after->scale.note, "scale of the salon's own swatches");
    compare_them();
    ck_assert_ptr_null(only_warning("level-scale-differs"));
}
END_TEST

int main(void)
{
    TCase *tests = patient_case("comparison");
    tcase_add_checked_fixture(tests, make_two, free_two);
    tcase_add_test(tests, pairs_by_name);
    tcase_add_test(tests, names_must_be_exact);
    tcase_add_test(tests, nothing_in_common_is_unusable);
    tcase_add_test(tests, calibration_that_differs);
    tcase_add_test(tests, scale_that_differs);
    tcase_add_test(tests, scale_that_differs_little);
    tcase_add_test(tests, scale_in_one_alone);
    tcase_add_test(tests, scale_in_neither);
    tcase_add_test(tests, level_scale_that_differs);
    return run_case("comparison", tests);
}
