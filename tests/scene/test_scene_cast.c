/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break if light and shade that may be taken for colour got into the truth, weren't where they are
   asked for, or changed a scene without them. */
#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#include "drawn.h"
#include "suite.h"

/* 2 px a mm; hair of one colour in the middle of the picture. The root line lies at 44 mm. */
#define SMALL "size=[800,600]", "quick=true", DRAWN_CLEAN, "camera.bits=16"
#define EVEN SMALL, "gloss=0", "light.share=0", "course.shape=uniform", "natural.level=7"

/* Mean light of the hair between x = 120 and 180 mm at s mm below the root line. */
static void row_xyz(const drawn_picture *picture, double s, double xyz[3])
{
    drawn_xyz(picture, 240, (size_t)lround(2 * (44 + s)) - 1, 120, 2, xyz);
}

static bool same_zones(const char *a, const char *b)
{
    json_t *one = drawn_json(a, "truth.json"), *two = drawn_json(b, "truth.json");
    const bool same = json_equal(json_object_get(one, "zones"), json_object_get(two, "zones"));
    json_decref(one);
    json_decref(two);
    return same;
}

/* Breaks if the shadow takes another share of light, lies elsewhere, or is taken for colour. 0.02 for what
   strands that drift aside bring along. */
START_TEST(shadow_is_light)
{
    const char *const without[] = {EVEN, NULL};
    const char *const with[] = {EVEN, "shadow.amount=0.4", "shadow.from_mm=60", "shadow.to_mm=90", NULL};
    static const double places[] = {30, 60, 75, 90, 130}, shares[] = {0, 0.5, 1, 0.5, 0};
    drawn_picture a, b;
    drawn_made("lit", without, &a);
    drawn_made("shadow", with, &b);
    for (size_t i = 0; i < 5; i++) {
        double lit[3], shaded[3];
        row_xyz(&a, places[i], lit);
        row_xyz(&b, places[i], shaded);
        for (int k = 0; k < 3; k++)
            ck_assert_double_eq_tol(shaded[k] / lit[k], 1 - 0.4 * shares[i], 0.02);
    }
    ck_assert(same_zones("lit", "shadow"));
    drawn_close(&a);
    drawn_close(&b);
}
END_TEST

/* Breaks if the band isn't white, lies elsewhere, has another width, or is taken for colour. Half of it at
   half its width, broadened by the turn of locks and strands: 20 mm grow to about hypot(20, 2.355 * 3). */
START_TEST(sheen_band_is_white)
{
    const char *const without[] = {EVEN, NULL};
    const char *const with[] = {EVEN, "sheen_band.amount=0.1", "sheen_band.at_mm=100",
                                "sheen_band.width_mm=20", NULL};
    drawn_picture a, b;
    double more[3][3];
    static const double places[] = {100, 110, 150};
    drawn_made("matt", without, &a);
    drawn_made("sheen", with, &b);
    for (size_t i = 0; i < 3; i++) {
        double matt[3], glossy[3];
        row_xyz(&a, places[i], matt);
        row_xyz(&b, places[i], glossy);
        for (int k = 0; k < 3; k++)
            more[i][k] = glossy[k] - matt[k];
    }
    /* Samples are cut off at 1, where single strands shine brightest: 3 %. */
    ck_assert_double_eq_tol(more[0][0] / more[0][1], 0.9642, 0.03);
    ck_assert_double_eq_tol(more[0][2] / more[0][1], 0.8249, 0.03);
    ck_assert(more[0][1] > 0.08 && more[0][1] < 0.2);
    ck_assert_double_eq_tol(more[1][1] / more[0][1], 0.53, 0.1);
    ck_assert_double_lt(fabs(more[2][1]), 0.002);
    ck_assert(same_zones("matt", "sheen"));
    drawn_close(&a);
    drawn_close(&b);
}
END_TEST

/* Breaks if light that changes along the fall is taken for colour, or doesn't change by the share asked: from
   root to tip of 226 mm. */
START_TEST(light_along_the_fall_is_light)
{
    const char *const without[] = {EVEN, NULL}, *const with[] = {EVEN, "shading_fall=0.3", NULL};
    drawn_picture a, b;
    drawn_made("level", without, &a);
    drawn_made("falling", with, &b);
    for (double s = 20; s < 200; s += 60) {
        double lit[3], fallen[3];
        row_xyz(&a, s, lit);
        row_xyz(&b, s, fallen);
        ck_assert_double_eq_tol(fallen[1] / lit[1], 1 + 0.3 * (s / 226 - 0.5), 0.003);
    }
    ck_assert(same_zones("level", "falling"));
    drawn_close(&a);
    drawn_close(&b);
}
END_TEST

/* Breaks if the parting doesn't show skin, shows it elsewhere, or isn't told as bare. Its shape, narrowing
   with the cube of the way, holds 0.84 of width times length; a quarter is for its ragged edge and flyaways.
 */
START_TEST(parting_is_bare)
{
    const char *const sets[] = {
        EVEN, "parting.at_mm=100", "parting.width_mm=5", "parting.length_mm=20", "natural.level=3", NULL};
    drawn_picture picture;
    double skin[3], hair[3];
    drawn_made("parting", sets, &picture);
    drawn_lab(&picture, 2 * 142 - 2, 2 * (44 + 8), 4, 6, skin);
    drawn_lab(&picture, 2 * 152, 2 * (44 + 8), 20, 6, hair);
    drawn_close(&picture);
    ck_assert_double_gt(skin[0], 55);
    ck_assert_double_lt(hair[0], 30);
    json_t *truth = drawn_json("parting", "truth.json");
    const double bare = 0.84 * 5 * 20 / (60 * 200);
    ck_assert_double_eq_tol(drawn_zone_number(truth, 1, "bare_share"), bare, 0.25 * bare);
    ck_assert_double_eq_tol(drawn_zone_number(truth, 1, "parting.across_mm"), 108 - 100, 1);
    ck_assert_double_eq_tol(drawn_zone_number(truth, 1, "root.level"), 3, 0.15);
    ck_assert_ptr_null(drawn_key(json_array_get(json_object_get(truth, "zones"), 2), "parting"));
    json_decref(truth);
}
END_TEST

/* Breaks if keys of things that aren't there change picture, marks or truth, or are named in it. */
START_TEST(nothing_at_the_defaults)
{
    const char *const plain[] = {SMALL, NULL};
    const char *const named[] = {SMALL,
                                 "melt.level=null",
                                 "course.curve_mm=0.0",
                                 "course.zigzag_mm=0.0",
                                 "course.gaps=[]",
                                 "bleeds=[]",
                                 "shadow.amount=0.0",
                                 "sheen_band.amount=0.0",
                                 "parting.at_mm=null",
                                 "hair.sweep_deg=0.0",
                                 NULL};
    static const char *const keys[] = {"melt",        "course.curve_mm", "course.zigzag_mm",
                                       "course.gaps", "bleeds",          "shadow",
                                       "sheen_band",  "parting",         "hair.sweep_deg"};
    drawn_picture a, b;
    drawn_made("plain", plain, &a);
    drawn_made("named", named, &b);
    ck_assert_int_eq(memcmp(a.rgb, b.rgb, 6 * a.width * a.height), 0);
    drawn_close(&a);
    drawn_close(&b);
    json_t *one = drawn_json("plain", "truth.json"), *two = drawn_json("named", "truth.json");
    ck_assert(json_equal(one, two));
    for (size_t i = 0; i < sizeof keys / sizeof keys[0]; i++)
        ck_assert_msg(drawn_key(json_object_get(two, "params"), keys[i]) == NULL, "%s", keys[i]);
    const json_t *zone = json_array_get(json_object_get(two, "zones"), 0);
    ck_assert_uint_eq(json_object_size(json_object_get(zone, "demarcation")), 2);
    json_decref(one);
    json_decref(two);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {shadow_is_light, sheen_band_is_white,     light_along_the_fall_is_light,
                                  parting_is_bare, nothing_at_the_defaults, NULL};
    return run_suite("scene cast", tests);
}
