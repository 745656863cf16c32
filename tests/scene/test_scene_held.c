/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break if what is held beside the hair weren't where its marks say, or of another colour than its
 * truth says. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "drawn.h"
#include "suite.h"

#define BARE "size=[1200,900]", DRAWN_CLEAN, "camera.bits=16", "only=swatches"

enum { PATCHES = 24 };

typedef struct {
    double x, y;
} point;

static void corners_of(const json_t *list, point out[4])
{
    ck_assert_uint_eq(json_array_size(list), 4);
    for (size_t i = 0; i < 4; i++)
        out[i] = (point){json_number_value(json_array_get(json_array_get(list, i), 0)),
                         json_number_value(json_array_get(json_array_get(list, i), 1))};
}

/* The projective map of the unit square to four corners (Heckbert 1989). */
static point in_square(const point c[4], double u, double v)
{
    const double sx = c[0].x - c[1].x + c[2].x - c[3].x, sy = c[0].y - c[1].y + c[2].y - c[3].y;
    const double dx1 = c[1].x - c[2].x, dx2 = c[3].x - c[2].x, dy1 = c[1].y - c[2].y, dy2 = c[3].y - c[2].y;
    const double det = dx1 * dy2 - dx2 * dy1, g = (sx * dy2 - dx2 * sy) / det,
                 h = (dx1 * sy - sx * dy1) / det;
    const double w = g * u + h * v + 1;
    return (point){((c[1].x - c[0].x + g * c[1].x) * u + (c[3].x - c[0].x + h * c[3].x) * v + c[0].x) / w,
                   ((c[1].y - c[0].y + g * c[1].y) * u + (c[3].y - c[0].y + h * c[3].y) * v + c[0].y) / w};
}

static void patches_of(const char *name, const point corners[4], double labs[PATCHES][3])
{
    drawn_picture picture;
    drawn_open(name, &picture);
    for (size_t i = 0; i < PATCHES; i++) {
        const point p =
            in_square(corners, ((double)(i % 6) + 0.425) / 5.85, ((double)(i / 6) + 0.425) / 3.85);
        drawn_lab(&picture, (size_t)p.x - 2, (size_t)p.y - 2, 4, 4, labs[i]);
    }
    drawn_close(&picture);
}

static void truth_patches(json_t *truth, point corners[4], double labs[PATCHES][3])
{
    corners_of(drawn_key(truth, "target.corners"), corners);
    for (size_t i = 0; i < PATCHES; i++)
        drawn_triple(json_array_get(drawn_key(truth, "target.patches"), i), labs[i]);
}

/* Breaks if the corners in truth or marks, or the order of patches, don't follow the pose: each patch of the
   published colour must be where the corners put it. 0.1: 16 bits; cyan is outside sRGB and clipped. */
START_TEST(corners_follow_the_pose)
{
    static const char *const poses[][4] = {
        {"target.turn_deg=0", "target.tilt_deg=0", "target.mirrored=false", "target.width_mm=105"},
        {"target.turn_deg=137", "target.tilt_deg=40", "target.mirrored=false", "target.width_mm=105"},
        {"target.turn_deg=-85", "target.tilt_deg=-30", "target.mirrored=true", "target.width_mm=60"},
        {"target.turn_deg=181", "target.tilt_deg=55", "target.mirrored=false", "target.width_mm=160"}};
    for (size_t i = 0; i < 4; i++) {
        const char *const sets[] = {BARE,
                                    "target.at_mm=[150,160]",
                                    "target.tilt_axis_deg=35",
                                    "target.edition=since-2014",
                                    poses[i][0],
                                    poses[i][1],
                                    poses[i][2],
                                    poses[i][3],
                                    NULL};
        double seen[PATCHES][3], wanted[PATCHES][3];
        point corners[4], marked[4];
        ck_assert_int_eq(drawn_make("pose", sets), 0);
        json_t *truth = drawn_json("pose", "truth.json"), *marks = drawn_json("pose", "marks.json");
        truth_patches(truth, corners, wanted);
        corners_of(drawn_key(marks, "target.corners"), marked);
        patches_of("pose", corners, seen);
        for (size_t k = 0; k < PATCHES; k++)
            ck_assert_msg(k == 17 || drawn_difference(seen[k], wanted[k]) < 0.1, "pose %zu patch %zu", i,
                          k + 1);
        for (size_t k = 0; k < 4; k++)
            ck_assert_double_lt(hypot(corners[k].x - marked[k].x, corners[k].y - marked[k].y), 0.02);
        json_decref(truth);
        json_decref(marks);
    }
}
END_TEST

/* Breaks if perspective isn't one: seen from 600 mm and tilted by 60 degrees about a vertical axis, the
   block's near edge is longer than the far one by (600 + h) / (600 - h), h = 52.5 sin 60. */
START_TEST(near_edge_is_longer)
{
    const char *const sets[] = {
        BARE, "target.at_mm=[150,160]", "target.turn_deg=0", "target.tilt_deg=60", "target.tilt_axis_deg=90",
        NULL};
    point c[4];
    ck_assert_int_eq(drawn_make("near", sets), 0);
    json_t *truth = drawn_json("near", "truth.json");
    corners_of(drawn_key(truth, "target.corners"), c);
    const double left = hypot(c[3].x - c[0].x, c[3].y - c[0].y),
                 right = hypot(c[2].x - c[1].x, c[2].y - c[1].y);
    const double h = 52.5 * sin(3.14159265358979 / 3);
    ck_assert_double_eq_tol(fmax(left, right) / fmin(left, right), (600 + h) / (600 - h), 0.001);
    json_decref(truth);
}
END_TEST

/* Breaks if a fault touches patches that it shouldn't, or not those it should, or goes the wrong way. */
START_TEST(faults_touch_their_patches)
{
    const char *const sets[] = {BARE,
                                "target.at_mm=[150,160]",
                                "target.dirt=[2,20]",
                                "target.glare=[4,8]",
                                "target.turn_deg=0",
                                "target.shade.share=0.5",
                                "target.shade.from=0.85",
                                "target.shade.soft_mm=2",
                                NULL};
    double seen[PATCHES][3], wanted[PATCHES][3];
    point corners[4];
    ck_assert_int_eq(drawn_make("faults", sets), 0);
    json_t *truth = drawn_json("faults", "truth.json");
    truth_patches(truth, corners, wanted);
    patches_of("faults", corners, seen);
    for (size_t i = 0; i < PATCHES; i++) {
        const double off = drawn_difference(seen[i], wanted[i]), lighter = seen[i][0] - wanted[i][0];
        if (i == 1 || i == 19)
            ck_assert(off > 3 && lighter < -2 && seen[i][2] > wanted[i][2]);
        else if (i == 3 || i == 7)
            ck_assert(off > 3 && lighter > 3);
        else if (i == 17) /* cyan, outside sRGB and clipped */
            continue;
        else if (i % 6 == 5) /* in the shade: half the light */
            ck_assert_double_eq_tol(seen[i][0] + 16, (wanted[i][0] + 16) * cbrt(0.5), 0.6);
        else
            ck_assert_double_lt(off, 0.1);
    }
    json_decref(truth);
}
END_TEST

/* The box inside a polygon of four points that is nearly upright. */
static void polygon_lab(const drawn_picture *picture, const json_t *polygon, double lab[3])
{
    point c[4];
    corners_of(polygon, c);
    drawn_lab(picture, (size_t)ceil(c[0].x), (size_t)ceil(c[0].y), (size_t)(c[2].x - c[0].x),
              (size_t)(c[2].y - c[0].y), lab);
}

/* Breaks if cards or swatches are of another colour than their truth or are marked elsewhere. Cards: 0.05 for
   16 bits. Swatches: 0.05 for the pixels at the polygon's edge. */
START_TEST(cards_and_swatches_are_true)
{
    const char *const sets[] = {
        BARE,
        "greys=[{\"at_mm\":[40,250],\"size_mm\":[40,20],\"lstar\":80},"
        "{\"at_mm\":[100,250],\"size_mm\":[30,30],\"lstar\":20,\"in_marks_width\":true}]",
        "swatches=[{\"level\":3,\"name\":\"three\"},{\"level\":6},{\"level\":9,\"lab\":[58,3,20]},{\"lab\":["
        "40,20,10]}]",
        NULL};
    static const double lstars[] = {80, 20}, made[] = {21.9, 35.2, 58, 40};
    drawn_picture picture;
    double lab[3], wanted[3];
    ck_assert_int_eq(drawn_make("cards", sets), 0);
    json_t *truth = drawn_json("cards", "truth.json"), *marks = drawn_json("cards", "marks.json");
    drawn_open("cards", &picture);
    /* The first grey of the marks is the scene's own card. */
    for (size_t i = 0; i < 2; i++) {
        const json_t *card = json_array_get(json_object_get(marks, "grey"), i + 1);
        polygon_lab(&picture, json_object_get(card, "polygon"), lab);
        ck_assert_double_eq_tol(lab[0], lstars[i], 0.05);
        ck_assert_double_eq_tol(json_number_value(json_object_get(card, "lstar")), lstars[i], 1e-9);
        ck_assert_int_eq(json_object_get(card, "width_mm") != NULL, i == 1);
    }
    for (size_t i = 0; i < 4; i++) {
        const json_t *swatch = json_array_get(json_object_get(truth, "swatches"), i);
        drawn_triple(json_object_get(swatch, "lab"), wanted);
        polygon_lab(&picture, json_object_get(swatch, "polygon"), lab);
        ck_assert_double_lt(drawn_difference(lab, wanted), 0.05);
        /* Texture must not shift the mean by more than a quarter of a level, about 1 L* there. */
        ck_assert_double_eq_tol(wanted[0], made[i], 1.5);
    }
    ck_assert_uint_eq(json_array_size(json_object_get(marks, "swatches")), 3); /* the last has no level */
    drawn_close(&picture);
    json_decref(truth);
    json_decref(marks);
}
END_TEST

/* Breaks if something that isn't to be marked is marked, or goes undrawn. */
START_TEST(unmarked_is_still_drawn)
{
    const char *const with[] = {BARE, NULL};
    const char *const without[] = {BARE, "target.in_marks=false", "scale.in_marks=false", NULL};
    const char *const wide[] = {BARE, "target.in_marks_width=true", NULL};
    drawn_picture a, b;
    drawn_made("with", with, &a);
    drawn_made("without", without, &b);
    ck_assert_int_eq(drawn_make("wide", wide), 0);
    ck_assert_int_eq(memcmp(a.rgb, b.rgb, 6 * a.width * a.height), 0);
    drawn_close(&a);
    drawn_close(&b);
    json_t *marks = drawn_json("without", "marks.json"), *truth = drawn_json("without", "truth.json");
    json_t *wider = drawn_json("wide", "marks.json");
    ck_assert_ptr_null(drawn_key(marks, "target"));
    ck_assert_ptr_null(drawn_key(marks, "scale"));
    ck_assert_ptr_nonnull(drawn_key(truth, "target.corners"));
    ck_assert_double_eq_tol(json_number_value(drawn_key(wider, "target.width_mm")), 105, 1e-9);
    json_decref(marks);
    json_decref(truth);
    json_decref(wider);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {corners_follow_the_pose,    near_edge_is_longer,
                                  faults_touch_their_patches, cards_and_swatches_are_true,
                                  unmarked_is_still_drawn,    NULL};
    return run_suite("scene held", tests);
}
