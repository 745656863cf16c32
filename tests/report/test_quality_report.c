/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a figure beyond its threshold that isn't shown with its bound, one that is good and takes up a
 * line, a NaN in JSON, a bound on a figure that another judges. */
#include <jansson.h>
#include <math.h>
#include <string.h>

#include "compare/made_reading.h"
#include "suite.h"
#include "tidemark/report.h"

static void add(tdm_reading *reading, tdm_quality_id id, double value, const char *zone, bool stated)
{
    tdm_error error = {0};
    const tdm_quality_value it = {.value = value, .zone = zone, .stated = stated};
    ck_assert_int_eq(tdm_quality_add(&reading->quality, id, &it, NULL, &reading->warnings, &error), TDM_OK);
}

static tdm_reading *judged(void)
{
    tdm_reading *reading = made_reading("before.jpg", 1);
    add(reading, TDM_QUALITY_RESOLUTION, 10, NULL, false);
    add(reading, TDM_QUALITY_FOCUS_PX, 3.25, NULL, true);
    add(reading, TDM_QUALITY_FOCUS_MM, 0.325, NULL, false);
    add(reading, TDM_QUALITY_NOISE, NAN, NULL, false);
    add(reading, TDM_QUALITY_HAIR_FOCUS_MM, 0.41, NULL, false);
    return reading;
}

static bool text_has(const tdm_reading *reading, const char *part)
{
    const tdm_text_style style = {.width = 200};
    tdm_error error = {0};
    char *text = NULL;
    ck_assert_int_eq(tdm_reading_text(reading, &style, &text, &error), TDM_OK);
    const bool found = strstr(text, part) != NULL;
    tdm_free(text);
    return found;
}

START_TEST(good_in_one_line)
{
    tdm_reading *reading = judged();
    ck_assert(text_has(reading, "  photograph: good (edges 0.33 mm, strands 0.41 mm, 10 px/mm)\n"));
    tdm_reading_free(reading);
}
END_TEST

START_TEST(what_is_beyond_with_its_bound)
{
    tdm_reading *reading = judged();
    add(reading, TDM_QUALITY_TILT, 23.4, NULL, false);
    add(reading, TDM_QUALITY_USED, 61, "zone 1", false);
    ck_assert(text_has(reading, "  photograph: tilt of the target 23 degrees (at most 15); part of the zone "
                                "that can be used 61 % (at least 70, zone 1)\n"));
    ck_assert(!text_has(reading, "photograph: good"));
    ck_assert(text_has(reading, "hold the target")); /* the advice, with the warnings */
    tdm_reading_free(reading);
}
END_TEST

/* Nothing is beyond a bound, but there is nothing to hold the colours against. */
START_TEST(not_good_without_references)
{
    tdm_reading *reading = judged();
    reading->calibration.method = TDM_CALIBRATION_ICC;
    ck_assert(
        text_has(reading, "  photograph: no target or card: levels can't be told well (edges 0.33 mm, "));
    reading->mm_per_px = NAN;
    ck_assert(text_has(reading, "well; no scale: lengths are shares of the path (edges "));
    add(reading, TDM_QUALITY_TILT, 23.4, NULL, false);
    ck_assert(text_has(reading, "of the path; tilt of the target 23 degrees (at most 15)\n"));
    reading->calibration.method = TDM_CALIBRATION_GREY;
    ck_assert(!text_has(reading, "no target or card"));
    tdm_reading_free(reading);
}
END_TEST

/* A reading from before there were figures says nothing of them. */
START_TEST(nothing_of_nothing)
{
    tdm_reading *reading = made_reading("before.jpg", 1);
    ck_assert(!text_has(reading, "photograph:"));
    tdm_reading_free(reading);
}
END_TEST

static const json_t *item(const json_t *figures, size_t index, const char *name)
{
    const json_t *found = json_object_get(json_array_get(figures, index), name);
    ck_assert_msg(found != NULL, "%s", name);
    return found;
}

START_TEST(figures_in_json)
{
    tdm_reading *reading = judged();
    tdm_error error = {0};
    char *text = NULL;
    add(reading, TDM_QUALITY_CLIPPED, 2, "zone 1", false);
    ck_assert_int_eq(tdm_reading_json(reading, &text, &error), TDM_OK);
    json_t *root = json_loads(text, 0, NULL);
    ck_assert_ptr_nonnull(root);
    const json_t *figures = json_object_get(json_object_get(root, "quality"), "figures");
    ck_assert_uint_eq(json_array_size(figures), 6);
    ck_assert_str_eq(json_string_value(item(figures, 0, "code")), "low-resolution");
    ck_assert_str_eq(json_string_value(item(figures, 0, "unit")), "px/mm");
    ck_assert(json_is_true(item(figures, 0, "below")) && json_is_true(item(figures, 0, "good")));
    ck_assert_double_eq_tol(json_number_value(item(figures, 0, "threshold")), 3, 1e-9);
    ck_assert_double_eq_tol(json_number_value(item(figures, 0, "unusable_beyond")), 1, 1e-9);
    ck_assert(json_is_null(item(figures, 1, "threshold"))); /* the mm are judged */
    ck_assert(json_is_null(item(figures, 1, "unusable_beyond")));
    ck_assert_double_eq_tol(json_number_value(item(figures, 2, "unusable_beyond")), 3, 1e-9);
    ck_assert_double_eq_tol(json_number_value(item(figures, 1, "value")), 3.25, 1e-9);
    ck_assert_double_eq_tol(json_number_value(item(figures, 2, "threshold")), 0.8, 1e-9);
    ck_assert(json_is_null(item(figures, 3, "value")) && json_is_true(item(figures, 3, "good")));
    ck_assert_str_eq(json_string_value(item(figures, 5, "zone")), "zone 1");
    ck_assert(json_is_false(item(figures, 5, "below")) && json_is_false(item(figures, 5, "good")));
    ck_assert_uint_gt(strlen(json_string_value(item(figures, 5, "advice"))), 10);
    json_decref(root);
    tdm_free(text);
    tdm_reading_free(reading);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {good_in_one_line,
                                  what_is_beyond_with_its_bound,
                                  not_good_without_references,
                                  nothing_of_nothing,
                                  figures_in_json,
                                  NULL};
    return run_suite("quality report", tests);
}
