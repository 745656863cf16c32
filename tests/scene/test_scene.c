/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break if the truth beside a drawn picture weren't what was drawn: the picture is read here with
 * libpng and plain formulas. */
#include <jansson.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "drawn.h"
#include "suite.h"

#define SMALL "size=[1200,900]", DRAWN_CLEAN

static double zone_number(const json_t *truth, size_t zone, const char *part, const char *key)
{
    const json_t *one = json_array_get(json_object_get(truth, "zones"), zone);
    const json_t *value = json_object_get(json_object_get(one, part), key);
    ck_assert_msg(json_is_number(value), "%s.%s", part, key);
    return json_number_value(value);
}

/* L* of the mean light of a box of the picture. */
static double box_lstar(const char *name, size_t x0, size_t y0, size_t width, size_t height)
{
    drawn_picture picture;
    double lab[3];
    drawn_open(name, &picture);
    drawn_lab(&picture, x0, y0, width, height, lab);
    drawn_close(&picture);
    return lab[0];
}

/* Breaks if the camera's sums, the zone's geometry and the truth's sums go apart. The side panel's root part
   is nearly a box: 60 by 20 mm at 3 px/mm, its centre 150 mm from the left, its top at 44 mm. 0.3 L* is for
   its slight bend. */
START_TEST(picture_holds_the_truth)
{
    const char *const sets[] = {SMALL, "gloss=0", "course.shape=uniform", "light.share=0", NULL};
    ck_assert_int_eq(drawn_make("held", sets), 0);
    json_t *truth = drawn_json("held", "truth.json");
    const json_t *zone = json_array_get(json_object_get(truth, "zones"), 1);
    const double root =
        json_number_value(json_array_get(json_object_get(json_object_get(zone, "root"), "lab"), 0));
    ck_assert_double_eq_tol(box_lstar("held", 360, 133, 180, 58), root, 0.3);
    ck_assert_double_eq_tol(box_lstar("held", 960, 400, 100, 80), 50.0, 0.15); /* the grey card; 8 bits */
    json_decref(truth);
}
END_TEST

/* Breaks if shading shifts an area's colour: level 4 must stay level 4 in every part. 0.1 level is about 0.45
   L*, 3 % of light: shading and the chance of a few hundred strands' colours. */
START_TEST(level_survives_shading)
{
    static const char *const parts[] = {"root", "mid", "ends", "overall"};
    const char *const sets[] = {
        SMALL, "gloss=0", "course.shape=uniform", "light.share=0", "shading=0.8", "texture_l=1", NULL};
    ck_assert_int_eq(drawn_make("level", sets), 0);
    json_t *truth = drawn_json("level", "truth.json");
    for (size_t zone = 0; zone < 3; zone++)
        for (size_t part = 0; part < 4; part++)
            ck_assert_double_eq_tol(zone_number(truth, zone, parts[part], "level"), 4.0, 0.1);
    json_decref(truth);
}
END_TEST

/* Breaks if the search for the true course goes wrong: without jitter a strand's width and centre are the
   design's, but for the sections' tilt to the root line (under a mm here) and, in CIELAB, the mixing of
   light. */
START_TEST(course_is_the_designed_one)
{
    const char *const sets[] = {SMALL,
                                "light.share=0",
                                "course.centre_mm=60",
                                "course.width_mm=20",
                                "course.jitter_mm=0",
                                "course.lock_jitter_mm=0",
                                NULL};
    ck_assert_int_eq(drawn_make("course", sets), 0);
    json_t *truth = drawn_json("course", "truth.json");
    ck_assert_double_eq_tol(zone_number(truth, 1, "gradient", "centre_mm"), 60, 0.8);
    ck_assert_double_eq_tol(zone_number(truth, 1, "gradient", "width_mm"), 20, 0.6);
    ck_assert_double_eq_tol(zone_number(truth, 1, "demarcation", "local_width_mm"), 20, 0.6);
    ck_assert_double_le(zone_number(truth, 1, "demarcation", "stagger_mm"), 0.5);
    json_decref(truth);
}
END_TEST

/* Breaks if ribbons don't take their share, or unmixing loses the strands' colours. Levels 6 and 8 lie 13.01
   L* apart, found again to 0.1 where nothing shades them. */
START_TEST(strands_are_the_designed_ones)
{
    const char *const sets[] = {SMALL, "shading=0", "texture_l=0", "light.spacing=regular", "light.share=0.4",
                                NULL};
    double share = 0;
    ck_assert_int_eq(drawn_make("strands", sets), 0);
    json_t *truth = drawn_json("strands", "truth.json");
    for (size_t zone = 0; zone < 3; zone++) {
        share += zone_number(truth, zone, "strands", "light_share") / 3;
        ck_assert_double_eq_tol(zone_number(truth, zone, "strands", "contrast_lstar"), 13.01, 0.1);
    }
    ck_assert_double_eq_tol(share, 0.4, 0.06);
    json_decref(truth);
}
END_TEST

static size_t slurp(const char *name, unsigned char *bytes, size_t room)
{
    char path[512];
    (void)snprintf(path, sizeof path, "%s/%s.png", SCENE_FOLDER, name);
    FILE *file = fopen(path, "rb");
    ck_assert_ptr_nonnull(file);
    const size_t size = fread(bytes, 1, room, file);
    ck_assert_int_eq(fclose(file), 0);
    return size;
}

/* Breaks if a date, an address or unset memory gets into a picture. */
START_TEST(same_scene_same_bytes)
{
    enum { ROOM = 8 << 20 };
    const char *const sets[] = {"size=[400,300]", "camera.format=png", NULL};
    unsigned char *first = malloc(ROOM), *second = malloc(ROOM);
    ck_assert(first && second);
    ck_assert_int_eq(drawn_make("once", sets), 0);
    ck_assert_int_eq(drawn_make("twice", sets), 0);
    const size_t size = slurp("once", first, ROOM);
    ck_assert_uint_gt(size, 1000);
    ck_assert_uint_eq(slurp("twice", second, ROOM), size);
    ck_assert_int_eq(memcmp(first, second, size), 0);
    free(first);
    free(second);
}
END_TEST

/* Breaks if a mistyped scene draws something else in silence. */
START_TEST(bad_scenes_are_refused)
{
    static const char *const bad[] = {"lihgt.share=0.3",  "light.share=2",    "course.shape=slope",
                                      "size=[1000,1000]", "camera.bits=12",   "zones=[{}]",
                                      "seed=null",        "natural.level=[4]"};
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        const char *const sets[] = {bad[i], NULL};
        ck_assert_msg(drawn_make("bad", sets) == 3, "%s", bad[i]);
    }
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {picture_holds_the_truth,
                                  level_survives_shading,
                                  course_is_the_designed_one,
                                  strands_are_the_designed_ones,
                                  same_scene_same_bytes,
                                  bad_scenes_are_refused,
                                  NULL};
    return run_suite("scene", tests);
}
