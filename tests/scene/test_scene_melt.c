/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break if the root shade laid over the head weren't the designed one, or the truth didn't know it. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "drawn.h"
#include "suite.h"

#define SMALL "size=[800,600]", "quick=true", DRAWN_CLEAN
#define PLAIN                                                                                                \
    SMALL, "light.share=0", "course.jitter_mm=0", "course.lock_jitter_mm=0", "natural.lab=[26,4,8]",         \
        "old.lab=[58,4,22]", "course.centre_mm=20", "course.width_mm=5"

static double normal_step(double from, double width)
{
    return 0.5 * (1 + erf(from / (width / 2.5631031) / sqrt(2)));
}

/* The hair of PLAIN under a melt of CIELAB 30, 4, 9: its share of the way from root to ends. */
static double designed(double s, double to, double feather)
{
    static const double root[3] = {26, 4, 8}, ends[3] = {58, 4, 22}, melt[3] = {30, 4, 9};
    double lab[3], xyz[3], over[3], sum = 0, square = 0;
    const double w = normal_step(s - 20, 5), k = 1 - normal_step(s - to, feather);
    for (int i = 0; i < 3; i++)
        lab[i] = root[i] + w * (ends[i] - root[i]);
    drawn_xyz_of(lab, xyz);
    drawn_xyz_of(melt, over);
    for (int i = 0; i < 3 && lab[0] > melt[0]; i++)
        xyz[i] += k * (over[i] - xyz[i]);
    drawn_lab_of(xyz, lab);
    for (int i = 0; i < 3; i++) {
        sum += (lab[i] - root[i]) * (ends[i] - root[i]);
        square += (ends[i] - root[i]) * (ends[i] - root[i]);
    }
    return sum / square;
}

static double crossing(double level, double to, double feather)
{
    double s = 0;
    while (designed(s, to, feather) < level && s < 400)
        s += 0.01;
    return s;
}

/* Breaks if the melt's cover, its mixing in linear light or the truth's sums of it are wrong. The middle
   panel's fall is nearly straight: 0.8 and 1 mm are for its sections' tilt and the strands that drift. */
START_TEST(truth_has_the_melted_course)
{
    static const struct {
        const char *to, *feather;
        double to_mm, feather_mm;
    } melts[] = {{"melt.to_mm=60", "melt.feather_mm=40", 60, 40},
                 {"melt.to_mm=45", "melt.feather_mm=12", 45, 12}};
    for (size_t i = 0; i < 2; i++) {
        const char *const sets[] = {PLAIN, "melt.lab=[30,4,9]", melts[i].to, melts[i].feather, NULL};
        const double to = melts[i].to_mm, feather = melts[i].feather_mm;
        ck_assert_int_eq(drawn_make("melted", sets), 0);
        json_t *truth = drawn_json("melted", "truth.json");
        const double width = crossing(0.9, to, feather) - crossing(0.1, to, feather);
        ck_assert_double_eq_tol(drawn_zone_number(truth, 1, "gradient.centre_mm"), crossing(0.5, to, feather),
                                0.8);
        ck_assert_double_eq_tol(drawn_zone_number(truth, 1, "gradient.width_mm"), width, 1);
        ck_assert_double_eq_tol(drawn_zone_number(truth, 1, "demarcation.local_width_mm"), width, 1);
        json_decref(truth);
    }
}
END_TEST

/* Breaks if the picture hasn't the melt that its truth has: at 30 mm, where the lengths would show without
   it, the hair has the melt's L* 30. Box of 40 x 4 mm around x = 150 mm; 1.5: the shading of few strands. */
START_TEST(picture_has_the_melt)
{
    const char *const sets[] = {PLAIN, "melt.lab=[30,4,9]", "melt.to_mm=60", "melt.feather_mm=10", "gloss=0",
                                NULL};
    const char *const without[] = {PLAIN, "gloss=0", NULL};
    drawn_picture picture;
    double lab[3];
    drawn_made("shaded", sets, &picture);
    drawn_lab(&picture, 260, 152, 80, 8, lab);
    drawn_close(&picture);
    ck_assert_double_eq_tol(lab[0], 30, 1.5);
    drawn_made("open", without, &picture);
    drawn_lab(&picture, 260, 152, 80, 8, lab);
    drawn_close(&picture);
    ck_assert_double_eq_tol(lab[0], 58, 2);
}
END_TEST

/* Breaks if a melt lightens: over hair darker than itself it must leave every pixel as it was. */
START_TEST(a_melt_only_deposits)
{
    const char *const without[] = {SMALL, "light.share=0", "natural.level=4", "old.level=3", NULL};
    const char *const with[] = {
        SMALL, "light.share=0", "natural.level=4", "old.level=3", "melt.level=6", "melt.to_mm=80", NULL};
    drawn_picture a, b;
    drawn_made("dark", without, &a);
    drawn_made("dark-melt", with, &b);
    ck_assert_int_eq(memcmp(a.rgb, b.rgb, 6 * a.width * a.height), 0);
    drawn_close(&a);
    drawn_close(&b);
}
END_TEST

/* Breaks if a melt changes the head it is laid on: where it doesn't reach, the picture stays as it was, for
   before and after. From 110 mm below the root line a normal edge at 40 mm is nought in double precision. */
START_TEST(the_head_stays_the_same)
{
    const char *const without[] = {SMALL, NULL};
    const char *const with[] = {SMALL,
                                "melt.level=4",
                                "melt.to_mm=40",
                                "melt.feather_mm=10",
                                "melt.jitter_mm=2",
                                "melt.lock_jitter_mm=2",
                                NULL};
    drawn_picture a, b;
    drawn_made("before", without, &a);
    drawn_made("after", with, &b);
    const size_t row = 3 * a.width, from = 2 * (44 + 110) * row;
    ck_assert_int_eq(memcmp(a.rgb + from, b.rgb + from, 2 * (a.height * row - from)), 0);
    ck_assert_int_ne(memcmp(a.rgb, b.rgb, 2 * from), 0);
    drawn_close(&a);
    drawn_close(&b);
}
END_TEST

/* Breaks if the melt's edge isn't as ragged as asked: the stagger of columns is near to that from lock to
   lock (a column of 4 mm holds parts of some locks of six layers, hence the wide bounds) and the width of the
   whole grows by the jitter of strands: variances of normal edges add. */
START_TEST(jitter_is_the_designed_one)
{
    const char *const even[] = {PLAIN, "melt.lab=[26,4,8]", "melt.to_mm=60", "melt.feather_mm=15", NULL};
    const char *const ragged[] = {
        PLAIN, "melt.lab=[26,4,8]", "melt.to_mm=60", "melt.feather_mm=15", "melt.jitter_mm=8", NULL};
    const char *const locks[] = {
        PLAIN, "melt.lab=[26,4,8]", "melt.to_mm=60", "melt.feather_mm=15", "melt.lock_jitter_mm=8", NULL};
    ck_assert_int_eq(drawn_make("even", even), 0);
    ck_assert_int_eq(drawn_make("ragged", ragged), 0);
    ck_assert_int_eq(drawn_make("locks", locks), 0);
    json_t *a = drawn_json("even", "truth.json"), *b = drawn_json("ragged", "truth.json"),
           *c = drawn_json("locks", "truth.json");
    const double wider = hypot(15, 2.5631 * 8) / 15;
    ck_assert_double_lt(drawn_zone_number(a, 1, "demarcation.stagger_mm"), 0.6);
    ck_assert_double_eq_tol(drawn_zone_number(b, 1, "gradient.width_mm") /
                                drawn_zone_number(a, 1, "gradient.width_mm"),
                            wider, 0.2 * wider);
    ck_assert_double_gt(drawn_zone_number(c, 1, "demarcation.stagger_mm"), 2);
    ck_assert_double_lt(drawn_zone_number(c, 1, "demarcation.stagger_mm"), 10);
    json_decref(a);
    json_decref(b);
    json_decref(c);
}
END_TEST

/* Breaks if hair light throughout isn't given a line by its melt, or light strands lose theirs. Regular
   ribbons of L* 51 between hair of L* 35; the contrast counts below the line, to 0.5. */
START_TEST(light_hair_gets_a_line)
{
    const char *const sets[] = {SMALL,
                                "course.shape=uniform",
                                "natural.level=6",
                                "light.share=0.4",
                                "light.spacing=regular",
                                "melt.level=4",
                                "melt.to_mm=50",
                                "melt.feather_mm=10",
                                "shading=0",
                                "texture_l=0",
                                NULL};
    ck_assert_int_eq(drawn_make("uniform", sets), 0);
    json_t *truth = drawn_json("uniform", "truth.json");
    const double centre = drawn_zone_number(truth, 1, "gradient.centre_mm");
    /* Mixed in linear light, half way in CIELAB lies nearer the root than half the cover, by under the
     * feather's half. */
    ck_assert(centre > 45 && centre < 50);
    ck_assert_double_eq_tol(drawn_zone_number(truth, 1, "strands.contrast_lstar"),
                            16 * (pow(66.0 / 16, 7.0 / 9) - pow(66.0 / 16, 5.0 / 9)), 0.5);
    json_decref(truth);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {truth_has_the_melted_course,
                                  picture_has_the_melt,
                                  a_melt_only_deposits,
                                  the_head_stays_the_same,
                                  jitter_is_the_designed_one,
                                  light_hair_gets_a_line,
                                  NULL};
    return run_suite("scene melt", tests);
}
