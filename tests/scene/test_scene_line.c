/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break if the line didn't run as designed across the head, or the truth told it elsewhere than the
   picture shows it. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "drawn.h"
#include "suite.h"

/* 2 px a mm. The root line runs from (42, 44) mm to the right; the middle zone's path starts at (150, 44). */
#define SMALL "size=[800,600]", "quick=true", DRAWN_CLEAN
#define SHARP                                                                                                \
    SMALL, "gloss=0", "shading=0.2", "texture_l=0", "light.share=0", "natural.level=3", "old.level=9",       \
        "course.jitter_mm=0.3", "course.lock_jitter_mm=0.3"

static json_t *item_of(const json_t *truth, size_t zone, const char *path, size_t i)
{
    return json_array_get(drawn_key(json_array_get(json_object_get(truth, "zones"), zone), path), i);
}

static double number_of(const json_t *item, const char *key)
{
    const json_t *value = json_object_get(item, key);
    ck_assert_msg(json_is_number(value), "%s", key);
    return json_number_value(value);
}

/* Light pixels, of over L* 40, between x0 and x1 and between y0 and y1, mm: their area in mm², their middle.
 */
typedef struct {
    double area, x, y;
} light_patch;

static light_patch light_of(const drawn_picture *picture, double x0, double y0, double x1, double y1)
{
    light_patch out = {0, 0, 0};
    for (size_t y = (size_t)(2 * y0); y < (size_t)(2 * y1); y++) {
        for (size_t x = (size_t)(2 * x0); x < (size_t)(2 * x1); x++) {
            double lab[3];
            drawn_lab(picture, x, y, 1, 1, lab);
            if (lab[0] < 40)
                continue;
            out.area += 0.25;
            out.x += 0.125 * ((double)x + 0.5);
            out.y += 0.125 * ((double)y + 0.5);
        }
    }
    out.x /= fmax(out.area, 1e-9);
    out.y /= fmax(out.area, 1e-9);
    return out;
}

/* Breaks if a gap lies elsewhere than asked, has a line all the same, or is told for a zone that it isn't in.
   Hair leans by under a mm there; strands at the edge take a mm either way. */
START_TEST(gaps_lie_where_told)
{
    const char *const sets[] = {SHARP, "course.gaps=[{\"at_mm\":90,\"width_mm\":12}]", NULL};
    drawn_picture picture;
    drawn_made("gap", sets, &picture);
    const light_patch seen = light_of(&picture, 112, 56, 192, 66); /* 12 to 22 mm below the root line */
    drawn_close(&picture);
    ck_assert_double_eq_tol(seen.area / 10, 12, 2);
    ck_assert_double_eq_tol(seen.x, 42 + 90, 1.5);
    json_t *truth = drawn_json("gap", "truth.json");
    const json_t *gap = item_of(truth, 1, "demarcation.gaps", 0);
    /* To the right hand of the way down: the picture's left counts up. */
    ck_assert_double_eq_tol(number_of(gap, "across_mm"), 108 - 90, 1);
    ck_assert_double_eq_tol(number_of(gap, "width_mm"), 12, 1);
    ck_assert_double_eq_tol(number_of(gap, "along_mm"), 34, 2);
    ck_assert_ptr_null(item_of(truth, 0, "demarcation.gaps", 0));
    /* A fifth of the zone has no line; the rest keeps its own. */
    ck_assert_double_eq_tol(drawn_zone_number(truth, 1, "gradient.centre_mm"), 34, 1.5);
    ck_assert_double_eq_tol(drawn_zone_number(truth, 1, "demarcation.local_width_mm"), 5, 1.5);
    json_decref(truth);
}
END_TEST

/* Breaks if a spot lies elsewhere, has another size, or another colour than told. An ellipse of 10 by 12 mm
   has 94 mm²; a fifth is for its streaked edge. The lift is that of level 9 over level 3. */
START_TEST(bleeds_lie_where_told)
{
    const char *const sets[] = {SHARP,
                                "bleeds=[{\"at_mm\":120,\"width_mm\":10,\"from_mm\":8,\"length_mm\":12},"
                                "{\"at_mm\":98,\"width_mm\":8,\"from_mm\":8,\"length_mm\":10,\"level\":5}]",
                                NULL};
    drawn_picture picture;
    double lab[3];
    drawn_made("bleed", sets, &picture);
    const light_patch seen = light_of(&picture, 150, 48, 175, 70);
    drawn_lab(&picture, 2 * 139, 2 * 56, 4, 4, lab);
    drawn_close(&picture);
    ck_assert_double_eq_tol(seen.area, 94, 19);
    ck_assert_double_eq_tol(seen.x, 42 + 120, 1.5);
    ck_assert_double_eq_tol(seen.y, 44 + 14, 1.5);
    ck_assert_double_eq_tol(lab[0], 16 * pow(66.0 / 16, 4.0 / 9), 4);
    json_t *truth = drawn_json("bleed", "truth.json");
    const json_t *bleed = item_of(truth, 1, "demarcation.bleeds", 0);
    ck_assert_double_eq_tol(number_of(bleed, "across_mm"), 108 - 120, 1);
    ck_assert_double_eq_tol(number_of(bleed, "along_mm"), 14, 0.5);
    ck_assert_double_eq_tol(number_of(bleed, "width_mm"), 10, 0.5);
    ck_assert_double_eq_tol(number_of(bleed, "length_mm"), 12, 1e-6);
    ck_assert_double_eq_tol(number_of(bleed, "lift_lstar"),
                            16 * (pow(66.0 / 16, 8.0 / 9) - pow(66.0 / 16, 2.0 / 9)), 0.2);
    ck_assert_ptr_nonnull(item_of(truth, 1, "demarcation.bleeds", 1));
    /* They aren't of the line: counted, they would reach its first tenth and make 25 mm of 5. */
    ck_assert_double_eq_tol(drawn_zone_number(truth, 1, "gradient.width_mm"), 5, 2);
    json_decref(truth);
}
END_TEST

/* Breaks if a patch lies elsewhere, has another size or tint than told, changes anything beside it, or if its
   truth is told without one. */
START_TEST(patches_lie_where_told)
{
    const char *const sets[] = {SHARP, "course.shape=uniform",
                                "patches=[{\"at_mm\":108,\"width_mm\":20,\"from_mm\":20,\"length_mm\":30,"
                                "\"shift\":[0,6,9]}]",
                                NULL};
    const char *const plain[] = {SHARP, "course.shape=uniform", NULL};
    drawn_picture with, without;
    double warm[3], usual[3];
    drawn_made("warm", sets, &with);
    drawn_made("cool", plain, &without);
    drawn_lab(&with, 2 * 147, 2 * 75, 12, 20, warm);
    drawn_lab(&without, 2 * 147, 2 * 75, 12, 20, usual);
    ck_assert_double_eq_tol(warm[0] - usual[0], 0, 0.5); /* the mean of shaded strands */
    ck_assert_double_eq_tol(warm[1] - usual[1], 6, 1.2);
    ck_assert_double_eq_tol(warm[2] - usual[2], 9, 1.8);
    drawn_lab(&with, 2 * 120, 2 * 75, 12, 20, warm); /* 22 mm aside */
    drawn_lab(&without, 2 * 120, 2 * 75, 12, 20, usual);
    ck_assert_double_lt(drawn_difference(warm, usual), 1e-9);
    drawn_close(&with);
    drawn_close(&without);
    json_t *truth = drawn_json("warm", "truth.json"), *none = drawn_json("cool", "truth.json");
    const json_t *patch = item_of(truth, 1, "patches", 0);
    double shift[3];
    drawn_triple(json_object_get(patch, "shift"), shift);
    ck_assert(shift[0] == 0 && shift[1] == 6 && shift[2] == 9);
    ck_assert_double_eq_tol(number_of(patch, "along_mm"), 35, 1);
    ck_assert_double_eq_tol(number_of(patch, "across_mm"), 0, 1);
    ck_assert_double_eq_tol(number_of(patch, "width_mm"), 20, 1);
    ck_assert_double_eq_tol(number_of(patch, "length_mm"), 30, 1e-6);
    ck_assert_ptr_null(item_of(truth, 0, "patches", 0));
    ck_assert_ptr_null(drawn_key(json_array_get(json_object_get(none, "zones"), 1), "patches"));
    json_decref(truth);
    json_decref(none);
}
END_TEST

/* Breaks if a melt lies under a spot, or the truth still tells of light where a melt of level 3 covers it. */
START_TEST(a_melt_covers_bleeds)
{
    const char *const sets[] = {SHARP,
                                "bleeds=[{\"at_mm\":120,\"width_mm\":10,\"from_mm\":8,\"length_mm\":12}]",
                                "melt.level=3",
                                "melt.to_mm=60",
                                "melt.feather_mm=10",
                                NULL};
    drawn_picture picture;
    drawn_made("covered", sets, &picture);
    const light_patch seen = light_of(&picture, 150, 48, 175, 70);
    drawn_close(&picture);
    json_t *truth = drawn_json("covered", "truth.json");
    ck_assert_double_lt(seen.area, 1);
    ck_assert_double_eq_tol(number_of(item_of(truth, 1, "demarcation.bleeds", 0), "lift_lstar"), 0, 0.05);
    json_decref(truth);
}
END_TEST

/* Row where a column of 4 mm at x mm turns light, mm below the root line. */
static double turn_at(const drawn_picture *picture, double x)
{
    for (size_t y = 2 * 48; y < 2 * 140; y++) {
        double lab[3];
        drawn_lab(picture, (size_t)(2 * (x - 2)), y, 8, 1, lab);
        if (lab[0] > 40)
            return 0.5 * (double)y - 44;
    }
    return NAN;
}

/* Breaks if the slope is told with the wrong sign or size: it is read here from the picture at 20 mm either
   side of the middle zone's path. 0.06: the fall spreads, rows are half a mm. */
START_TEST(slope_is_seen)
{
    const char *const sets[] = {SHARP, "course.slope=0.4", "course.curve_mm=0.01", NULL};
    drawn_picture picture;
    drawn_made("slope", sets, &picture);
    const double seen = (turn_at(&picture, 170) - turn_at(&picture, 130)) / 40;
    drawn_close(&picture);
    json_t *truth = drawn_json("slope", "truth.json");
    ck_assert_double_eq_tol(seen, 0.4, 0.06);
    ck_assert_double_eq_tol(drawn_zone_number(truth, 1, "demarcation.course.slope"), -seen, 0.06);
    json_decref(truth);
}
END_TEST

/* Breaks if the curve has another sagitta: the line lies lower at the middle of the span than 90 mm to the
   side of it by 30 (90 / 107.5)² mm. 2 mm: the fall spreads, the root line sags by 2 mm there. */
START_TEST(curve_has_its_sagitta)
{
    const char *const sets[] = {SHARP, "course.curve_mm=30", "course.centre_mm=50", NULL};
    drawn_picture picture;
    drawn_made("curve", sets, &picture);
    const double middle = turn_at(&picture, 149.5), side = turn_at(&picture, 59.5),
                 other = turn_at(&picture, 239.5);
    drawn_close(&picture);
    ck_assert_double_eq_tol(middle - 0.5 * (side + other), 30 * pow(90 / 107.5, 2) - 2, 2);
    json_t *truth = drawn_json("curve", "truth.json");
    const json_t *zone = json_array_get(json_object_get(truth, "zones"), 1);
    ck_assert_str_eq(json_string_value(drawn_key(json_object_get(zone, "demarcation"), "course.shape")),
                     "curved");
    ck_assert_double_eq_tol(drawn_zone_number(truth, 1, "demarcation.course.sagitta_mm"),
                            30 * pow(60.0 / 215, 2), 1e-3);
    json_decref(truth);
}
END_TEST

/* Breaks if the zigzag's height or period is another: 12 mm of 24 mm, nearest the root at the middle of the
   span. A column of 4 mm over a corner sees the mean of flanks of a mm a mm: a mm less at either end. */
START_TEST(zigzag_has_its_height)
{
    const char *const sets[] = {SHARP, "course.zigzag_mm=12", "course.zigzag_period_mm=24", NULL};
    drawn_picture picture;
    drawn_made("zigzag", sets, &picture);
    const double near = turn_at(&picture, 149.5), far = turn_at(&picture, 161.5),
                 again = turn_at(&picture, 173.5);
    drawn_close(&picture);
    ck_assert_double_eq_tol(far - near, 12 - 2, 1.5);
    ck_assert_double_eq_tol(again - near, 0, 2);
    json_t *truth = drawn_json("zigzag", "truth.json");
    /* Half the variance of a triangle's lies in its columns' centres: the median deviation is a quarter of
       its height. */
    ck_assert_double_eq_tol(drawn_zone_number(truth, 1, "demarcation.stagger_mm"), 1.4826 * 3, 1.2);
    ck_assert_double_eq_tol(drawn_zone_number(truth, 1, "demarcation.course.zigzag_mm"), 12, 1e-6);
    json_decref(truth);
}
END_TEST

/* Breaks if a zone that begins below the root line is marked or told elsewhere: the same place as in the zone
   that begins at it. */
START_TEST(zones_may_begin_below_the_root)
{
    const char *const sets[] = {
        SHARP, "hair.length_mm=95",
        "zones=[{\"name\":\"a\",\"at_mm\":108,\"width_mm\":40,\"length_mm\":75},"
        "{\"name\":\"b\",\"at_mm\":108,\"width_mm\":40,\"length_mm\":60,\"from_mm\":15}]",
        NULL};
    ck_assert_int_eq(drawn_make("below", sets), 0);
    json_t *truth = drawn_json("below", "truth.json"), *marks = drawn_json("below", "marks.json");
    const json_t *zones = json_object_get(marks, "zones");
    json_t *a = json_array_get(zones, 0), *b = json_array_get(zones, 1);
    ck_assert_ptr_null(json_object_get(a, "root_mm"));
    ck_assert_double_eq_tol(number_of(b, "root_mm"), 15, 1e-9);
    const json_t *start = json_array_get(json_object_get(b, "path"), 0);
    ck_assert_double_eq_tol(json_number_value(json_array_get(start, 1)), 2 * (44 + 15), 0.3);
    ck_assert_double_eq_tol(drawn_zone_number(truth, 1, "gradient.centre_mm"),
                            drawn_zone_number(truth, 0, "gradient.centre_mm"), 0.2);
    ck_assert_double_eq_tol(drawn_zone_number(truth, 1, "gradient.width_mm"),
                            drawn_zone_number(truth, 0, "gradient.width_mm"), 0.4);
    json_decref(truth);
    json_decref(marks);
}
END_TEST

/* Breaks if hair pulled aside leaves its zone, or the zone's sums leave some of its hair out. From 30 to 150
   mm below the root line the middle hair falls at the asked angle, give 4 degrees for its own wave. */
START_TEST(zones_follow_the_sweep)
{
    const char *const sets[] = {SHARP, "hair.sweep_deg=25", "course.shape=uniform", "pose.dx_mm=-30", NULL};
    ck_assert_int_eq(drawn_make("sweep", sets), 0);
    json_t *truth = drawn_json("sweep", "truth.json"), *marks = drawn_json("sweep", "marks.json");
    const json_t *path = json_object_get(json_array_get(json_object_get(marks, "zones"), 1), "path");
    const json_t *from = json_array_get(path, 2), *to = json_array_get(path, 6);
    const double dx = json_number_value(json_array_get(to, 0)) - json_number_value(json_array_get(from, 0)),
                 dy = json_number_value(json_array_get(to, 1)) - json_number_value(json_array_get(from, 1));
    ck_assert_double_eq_tol(atan2(dx, dy) * 180 / 3.14159265, 25, 4);
    ck_assert_double_lt(drawn_zone_number(truth, 1, "bare_share"), 0.01);
    ck_assert_double_eq_tol(drawn_zone_number(truth, 1, "ends.level"), 3, 0.15);
    json_decref(truth);
    json_decref(marks);
}
END_TEST

/* Breaks if faint or strong, narrow or broad lines aren't drawn or have no truth: steps of 2 and 40 L*,
   widths of 3 and 120 mm. Quick strands have knots 2.5 mm apart, which makes 4.1 mm of 3; the truth is of
   what is drawn. */
START_TEST(faint_and_broad_lines_are_known)
{
    static const char *const ends[] = {"old.lab=[26,5,9]", "old.lab=[64,5,9]"};
    static const char *const widths[] = {"course.width_mm=3", "course.width_mm=120"};
    for (size_t i = 0; i < 4; i++) {
        const char *const sets[] = {
            SMALL,         "light.share=0",       "natural.lab=[24,5,9]", ends[i / 2],
            widths[i % 2], "course.centre_mm=90", "course.jitter_mm=0",   "course.lock_jitter_mm=0",
            NULL};
        const double width = i % 2 ? 120 : 3;
        ck_assert_int_eq(drawn_make("faint", sets), 0);
        json_t *truth = drawn_json("faint", "truth.json");
        ck_assert_double_eq_tol(drawn_zone_number(truth, 1, "gradient.centre_mm"), 90, 1);
        ck_assert_double_eq_tol(drawn_zone_number(truth, 1, "gradient.width_mm"), width, 0.01 * width + 1.3);
        json_decref(truth);
    }
}
END_TEST

/* Breaks if nonsense about the line is drawn in silence. */
START_TEST(bad_lines_are_refused)
{
    static const char *const bad[][2] = {
        {"course.gaps=[{\"at_mm\":40,\"width_mm\":5}]", "course.shape=ramp"},
        {"course.gaps=[{\"at_mm\":40}]", "seed=1"},
        {"bleeds=[{\"at_mm\":40,\"from_mm\":5,\"length_mm\":5,\"width_mm\":5,\"colour\":3}]", "seed=1"},
        {"bleeds=[{\"at_mm\":40,\"from_mm\":5,\"length_mm\":5,\"width_mm\":5,\"level\":13}]", "seed=1"},
        {"patches=[{\"at_mm\":40,\"from_mm\":5,\"length_mm\":5,\"width_mm\":5,\"shift\":[0,0,90]}]",
         "seed=1"},
        {"patches=[{\"at_mm\":40,\"from_mm\":5,\"length_mm\":5,\"width_mm\":5}]", "seed=1"},
        {"melt.level=13", "seed=1"},
        {"shadow.from_mm=60", "shadow.to_mm=50"},
        {"course.zigzag_period_mm=0", "seed=1"},
        {"zones=[{\"name\":\"a\",\"at_mm\":45,\"width_mm\":40,\"length_mm\":60,\"from_mm\":-5}]", "seed=1"}};
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        const char *const sets[] = {bad[i][0], bad[i][1], NULL};
        ck_assert_msg(drawn_make("bad", sets) == 3, "%s", bad[i][0]);
    }
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {gaps_lie_where_told,    bleeds_lie_where_told,
                                  patches_lie_where_told, a_melt_covers_bleeds,
                                  slope_is_seen,          curve_has_its_sagitta,
                                  zigzag_has_its_height,  zones_may_begin_below_the_root,
                                  zones_follow_the_sweep, faint_and_broad_lines_are_known,
                                  bad_lines_are_refused,  NULL};
    return run_suite("scene line", tests);
}
