/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Two months of growth drawn into two photographs, whose Exif says when. Would break: anything on the way
 * from capture time and pixels to a month's growth; a melt in between that is taken for growth. */
#include <jansson.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "suite.h"
#include "tidemark/tidemark.h"
#include "world/drawn_scene.h"

static const double days = 60; /* 2026-01-05 to 2026-03-06: 26 + 28 + 6 */

static tdm_reading *draw_and_read(const char *name, const char *centre, const char *width, const char *taken,
                                  const char *coloured_on)
{
    const char *const values[] = {
        "size=[1000,750]", "quick=true", "seed=5", "gloss=0", centre, width, taken, NULL};
    char photo[DRAWN_PATH];
    tdm_read_options options = tdm_read_options_default();
    tdm_reading *reading = NULL;
    tdm_error error = {0};
    options.coloured_on = coloured_on;
    drawn_scene(name, values, photo);
    ck_assert_msg(tdm_read_photo(photo, NULL, &options, &reading, &error) == TDM_OK, "%s", error.text);
    return reading;
}

static double true_centre(const char *name, size_t zone)
{
    char path[DRAWN_PATH];
    (void)snprintf(path, sizeof path, "%s/%s.truth.json", SCENE_FOLDER, name);
    json_t *root = json_load_file(path, 0, NULL);
    const json_t *here = json_array_get(json_object_get(root, "zones"), zone);
    const json_t *value = json_object_get(json_object_get(here, "gradient"), "centre_mm");
    ck_assert(json_is_number(value));
    const double number = json_number_value(value);
    json_decref(root);
    return number;
}

static tdm_reading *read_first(void)
{
    return draw_and_read("grown-before", "course.centre_mm=25", "course.width_mm=5",
                         "camera.taken=\"2026:01:05 17:30:00\"", "2025-10-20");
}

/* 77 days from 2025-10-20: 11 + 30 + 31 + 5. */
static void check_regrowth(const tdm_reading *reading)
{
    for (size_t i = 0; i < 3; i++) {
        const tdm_zone_reading *zone = tdm_reading_zone(reading, i);
        tdm_value found;
        ck_assert(tdm_zone_value(zone, tdm_figure_find("regrowth.days"), &found));
        ck_assert_double_eq_tol(found.value, 77, 0.5);
        ck_assert(tdm_zone_value(zone, tdm_figure_find("regrowth.mm_per_month"), &found));
        const double truth = true_centre("grown-before", i) * 30.44 / 77;
        ck_assert_msg(fabs(found.value - truth) <= found.u, "zone %zu: %g, drawn %g", i, found.value, truth);
        ck_assert_double_lt(found.u, 1); /* a u that says nothing would hold anything */
        ck_assert_str_eq(tdm_zone_word(zone, tdm_figure_find("regrowth.pace")), "usual");
    }
}

/* A millimetre is a third of what the centre of one line may be off elsewhere in these tests. */
static void check_growth(const tdm_comparison *comparison)
{
    ck_assert_uint_eq(tdm_comparison_zone_count(comparison), 3);
    for (size_t i = 0; i < 3; i++) {
        const tdm_growth *growth = &tdm_comparison_zone(comparison, i)->growth;
        const double truth = true_centre("grown-after", i) - true_centre("grown-before", i);
        ck_assert_str_eq(growth->state, "grown");
        ck_assert_double_eq_tol(growth->days, days, 0.5);
        ck_assert_double_eq_tol(growth->mm.value, truth, 1);
        ck_assert_double_lt(fabs(growth->mm.value - truth), growth->mm.u);
        ck_assert_double_eq_tol(growth->mm_per_month.value, truth * 30.44 / days, 30.44 / days);
        ck_assert_str_eq(growth->pace, "usual");
    }
}

START_TEST(grown_as_drawn)
{
    tdm_error error = {0};
    tdm_comparison *comparison = NULL;
    tdm_reading *before = read_first();
    tdm_reading *after = draw_and_read("grown-after", "course.centre_mm=44", "course.width_mm=5",
                                       "camera.taken=\"2026:03:06 09:10:00\"", NULL);
    check_regrowth(before);
    ck_assert_int_eq(tdm_compare(before, after, &comparison, &error), TDM_OK);
    check_growth(comparison);
    tdm_comparison_free(comparison);
    tdm_reading_free(before);
    tdm_reading_free(after);
}
END_TEST

START_TEST(a_melt_in_between_is_no_growth)
{
    tdm_error error = {0};
    tdm_comparison *comparison = NULL;
    tdm_reading *before = read_first();
    tdm_reading *after = draw_and_read("grown-melted", "course.centre_mm=44", "course.width_mm=40",
                                       "camera.taken=\"2026:03:06 09:10:00\"", NULL);
    ck_assert_int_eq(tdm_compare(before, after, &comparison, &error), TDM_OK);
    for (size_t i = 0; i < tdm_comparison_zone_count(comparison); i++) {
        const tdm_growth *growth = &tdm_comparison_zone(comparison, i)->growth;
        ck_assert_str_ne(growth->state, "grown");
        ck_assert(isnan(growth->mm.value) && isnan(growth->mm_per_month.value));
    }
    tdm_comparison_free(comparison);
    tdm_reading_free(before);
    tdm_reading_free(after);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {grown_as_drawn, a_melt_in_between_is_no_growth, NULL};
    return run_suite("growth", tests);
}
