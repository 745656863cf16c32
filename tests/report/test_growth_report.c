/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a growth that is told and not reported, a null that becomes a number, rows of growth where
 * nobody asked for it. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "compare/made_reading.h"
#include "measure/budget.h"
#include "measure/regrowth.h"
#include "report/parsed_json.h"
#include "suite.h"

static tdm_reading *before, *after;
static tdm_comparison *comparison;

/* Two months of growth, 34 to 53 mm, of a line that stays as it was. */
static void make_scenario(void)
{
    tdm_error error = {0};
    before = made_reading("before.jpg", 1);
    after = made_reading("after.jpg", 1);
    (void)snprintf(before->taken, sizeof before->taken, "2026-01-05T17:30:00");
    (void)snprintf(after->taken, sizeof after->taken, "2026-03-06");
    after->taken_given = true;
    made_regrowth(&before->zones[0], false);
    made_regrowth(&after->zones[0], false);
    after->zones[0].gradient.centre_mm.value = 53;
    for (size_t i = 0; i < 21; i++) { /* one colour either side of the line, in both */
        before->zones[0].gradient.profile.points[i].lab[0] = 10.0 * (double)i < 34 ? 25 : 50;
        after->zones[0].gradient.profile.points[i].lab[0] = 10.0 * (double)i < 53 ? 25 : 50;
    }
    ck_assert_int_eq(tdm_compare(before, after, &comparison, &error), TDM_OK);
}

static void free_scenario(void)
{
    tdm_comparison_free(comparison);
    tdm_reading_free(before);
    tdm_reading_free(after);
}

START_TEST(json_has_it)
{
    char *text = NULL;
    tdm_error error = {0};
    ck_assert_int_eq(tdm_comparison_json(comparison, &text, &error), TDM_OK);
    json_t *root = parsed_json(text);
    json_t *growth = at(json_array_get(at(root, "changes"), 0), "growth");
    ck_assert_str_eq(json_string_value(at(growth, "state")), "grown");
    ck_assert_ptr_nonnull(strstr(json_string_value(at(growth, "text")), "19 mm in 60 days"));
    check_number(at(growth, "days"), 60);
    check_number(at(growth, "mm.value"), 19);
    check_number(at(growth, "mm.u"), 4 * sqrt(2));
    check_number(at(growth, "mm_per_month.value"), 19 * 30.44 / 60);
    ck_assert_str_eq(json_string_value(at(growth, "pace")), "usual");
    check_number(at(root, "head.growth.mm.value"), 19);
    ck_assert_str_eq(json_string_value(at(root, "before.photo.taken_source")), "exif");
    ck_assert_str_eq(json_string_value(at(root, "after.photo.taken_source")), "given");
    ck_assert(json_is_null(at(root, "after.coloured_on")));
    json_decref(root);
}
END_TEST

START_TEST(json_has_nulls)
{
    char *text = NULL;
    tdm_error error = {0};
    tdm_comparison_free(comparison);
    after->taken[0] = '\0';
    ck_assert_int_eq(tdm_compare(before, after, &comparison, &error), TDM_OK);
    ck_assert_int_eq(tdm_comparison_json(comparison, &text, &error), TDM_OK);
    json_t *root = parsed_json(text);
    json_t *growth = at(json_array_get(at(root, "changes"), 0), "growth");
    static const char *const names[] = {"text", "days", "mm", "mm_per_month", "pace"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++)
        ck_assert_msg(json_is_null(at(growth, names[i])), "%s", names[i]);
    ck_assert_str_eq(json_string_value(at(growth, "state")), "no-date");
    json_decref(root);
}
END_TEST

START_TEST(csv_has_it)
{
    char *text = NULL;
    tdm_error error = {0};
    ck_assert_int_eq(tdm_comparison_csv(comparison, &text, &error), TDM_OK);
    ck_assert_ptr_nonnull(strstr(text, ",growth.state,growth.days,growth.mm,growth.mm.u,growth.mm_per_month,"
                                       "growth.mm_per_month.u,growth.pace\r\n"));
    ck_assert_ptr_nonnull(strstr(text, ",grown,60,19,5.65685,9.63933,2.8714"));
    tdm_free(text);
}
END_TEST

static char *words(const tdm_reading *reading)
{
    const tdm_text_style style = {.width = 100};
    char *text = NULL;
    tdm_error error = {0};
    ck_assert_int_eq(reading ? tdm_reading_text(reading, &style, &text, &error)
                             : tdm_comparison_text(comparison, &style, &text, &error),
                     TDM_OK);
    return text;
}

START_TEST(text_has_it_where_it_is_told)
{
    char *text = words(NULL);
    ck_assert_ptr_nonnull(strstr(text, "\n  The hair has grown by 19 mm in 60 days: 9.6 mm a month, "));
    ck_assert_ptr_null(strstr(text, "growth a month")); /* no date of a colour */
    tdm_free(text);
}
END_TEST

START_TEST(rows_where_it_was_asked_for)
{
    tdm_error error = {0};
    const tdm_budget parts = {.part = {[TDM_PART_SAMPLING] = 0.5}};
    char *text = words(before);
    ck_assert_ptr_null(strstr(text, "growth"));
    ck_assert_ptr_null(strstr(text, "last coloured"));
    tdm_free(text);
    (void)snprintf(before->coloured_on, sizeof before->coloured_on, "2025-10-05");
    tdm_put(&before->zones[0], &before->zones[0].gradient.centre_mm, 34, &parts);
    ck_assert_int_eq(tdm_regrowth_measure(92, &before->zones[0], &before->warnings, &error), TDM_OK);
    text = words(before);
    ck_assert_ptr_nonnull(strstr(text, "last coloured 2025-10-05"));
    ck_assert_ptr_nonnull(strstr(text, "growth a month, mm"));
    ck_assert_ptr_nonnull(strstr(text, "11.2 +- 0.3"));
    ck_assert_ptr_nonnull(strstr(text, "pace of growth"));
    tdm_free(text);
}
END_TEST

int main(void)
{
    TCase *tests = patient_case("growth report");
    tcase_add_checked_fixture(tests, make_scenario, free_scenario);
    tcase_add_test(tests, json_has_it);
    tcase_add_test(tests, json_has_nulls);
    tcase_add_test(tests, csv_has_it);
    tcase_add_test(tests, text_has_it_where_it_is_told);
    tcase_add_test(tests, rows_where_it_was_asked_for);
    return run_case("growth report", tests);
}
