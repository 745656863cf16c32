/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a line drawn in a zigzag, with gaps, or with light spots above it, on hair with its texture,
 * shade and lights, that is read as another, or elsewhere. The truth is what the scene was asked for. */
#include <math.h>
#include <string.h>

#include "suite.h"
#include "tidemark/tidemark.h"
#include "world/drawn_scene.h"

#define ZONE "zones=[{\"name\":\"all\",\"side\":\"left\",\"at_mm\":107,\"width_mm\":150,\"length_mm\":180}]"

static tdm_reading *read_drawn(const char *name, const char *const special[2])
{
    const char *const values[] = {"size=[1600,1200]",
                                  "natural.level=4",
                                  "old.level=7",
                                  "gloss=0.05",
                                  "shading=0.35",
                                  "light.share=0.3",
                                  "course.width_mm=6",
                                  "course.centre_mm=50",
                                  ZONE,
                                  special[0],
                                  special[1],
                                  NULL};
    char photo[DRAWN_PATH];
    tdm_reading *reading = NULL;
    tdm_error error = {0};
    drawn_scene(name, values, photo);
    ck_assert_msg(tdm_read_photo(photo, NULL, NULL, &reading, &error) == TDM_OK, "%s", error.text);
    return reading;
}

static double number(const tdm_reading *reading, const char *path)
{
    tdm_value found = {NAN, NAN};
    (void)tdm_zone_value(tdm_reading_zone(reading, 0), tdm_figure_find(path), &found);
    return found.value;
}

static const tdm_place *places(const tdm_reading *reading, const char *path, size_t *count)
{
    return tdm_zone_places(tdm_reading_zone(reading, 0), tdm_figure_find(path), count);
}

static const char *course(const tdm_reading *reading)
{
    return tdm_zone_word(tdm_reading_zone(reading, 0), tdm_figure_find("demarcation.course"));
}

START_TEST(a_zigzag)
{
    const char *const special[2] = {"course.zigzag_mm=12", "course.zigzag_period_mm=24"};
    tdm_reading *reading = read_drawn("line-zigzag", special);
    ck_assert_str_eq(course(reading), "zigzag");
    ck_assert_double_eq_tol(number(reading, "demarcation.course_mm"), 12, 1.8); /* 15 % */
    /* The hair spreads by some per cent on its way from the root line. */
    ck_assert_double_eq_tol(number(reading, "demarcation.zigzag_period_mm"), 24, 2.4);
    ck_assert_double_eq(number(reading, "demarcation.gap_count"), 0);
    ck_assert_double_eq(number(reading, "demarcation.bleed_count"), 0);
    tdm_reading_free(reading);
}
END_TEST

/* Across grows to the right of the direction root to ends: the picture's left where hair hangs. */
START_TEST(gaps)
{
    const char *const special[2] = {
        "course.gaps=[{\"at_mm\":70,\"width_mm\":12},{\"at_mm\":130,\"width_mm\":18}]", "seed=41"};
    tdm_reading *reading = read_drawn("line-gaps", special);
    size_t count = 0;
    const tdm_place *found = places(reading, "demarcation.gaps", &count);
    ck_assert_str_eq(course(reading), "straight");
    ck_assert_uint_eq(count, 2);
    ck_assert_double_eq(number(reading, "demarcation.gap_count"), 2);
    /* whole columns of 4 mm, and the spread of the hair */
    ck_assert_double_eq_tol(found[0].across_mm, -23, 4);
    ck_assert_double_eq_tol(found[1].across_mm, 37, 4);
    ck_assert_double_eq_tol(found[0].width_mm, 18, 6);
    ck_assert_double_eq_tol(found[1].width_mm, 12, 6);
    ck_assert_double_eq_tol(found[0].mm, 50, 3);
    tdm_reading_free(reading);
}
END_TEST

START_TEST(bleeds)
{
    const char *const special[2] = {"bleeds=[{\"at_mm\":70,\"width_mm\":6,\"from_mm\":8,\"length_mm\":8},"
                                    "{\"at_mm\":120,\"width_mm\":10,\"from_mm\":15,\"length_mm\":10}]",
                                    "seed=42"};
    tdm_reading *reading = read_drawn("line-bleeds", special);
    size_t count = 0;
    const tdm_place *found = places(reading, "demarcation.bleeds", &count);
    ck_assert_str_eq(course(reading), "straight");
    ck_assert_uint_eq(count, 2);
    /* edges streaked by some 2 mm */
    ck_assert_double_eq_tol(found[0].mm, 20, 2);
    ck_assert_double_eq_tol(found[0].across_mm, -13, 2);
    ck_assert_double_eq_tol(found[0].length_mm, 10, 4);
    ck_assert_double_eq_tol(found[0].width_mm, 10, 4);
    ck_assert_double_eq_tol(found[1].mm, 12, 2);
    ck_assert_double_eq_tol(found[1].across_mm, 37, 2);
    ck_assert_double_eq(number(reading, "demarcation.gap_count"), 0);
    tdm_reading_free(reading);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {a_zigzag, gaps, bleeds, NULL};
    return run_suite("line", tests);
}
