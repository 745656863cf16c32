/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break if clutter, flat fields or motion weren't what they are called, or a scene without them
 * changed. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "drawn.h"
#include "suite.h"

#define SMALL "size=[800,600]", DRAWN_CLEAN

static size_t differing(const drawn_picture *a, const drawn_picture *b, size_t x0, size_t y0, size_t x1,
                        size_t y1)
{
    size_t count = 0;
    for (size_t y = y0; y < y1; y++)
        for (size_t x = x0; x < x1; x++)
            count += memcmp(a->rgb + 3 * (y * a->width + x), b->rgb + 3 * (y * b->width + x), 6) != 0;
    return count;
}

/* Breaks if clutter gets onto hair or target, or isn't there. At 2 px a mm the zones' hair lies between (120,
   100) and (480, 480), the target and its shadow between (536, 30) and (800, 220). */
START_TEST(clutter_stays_in_the_background)
{
    const char *const plain[] = {SMALL, "quick=true", NULL};
    const char *const full[] = {SMALL, "quick=true", "clutter.amount=1", "clutter.seed=5", NULL};
    drawn_picture a, b;
    drawn_made("plain", plain, &a);
    drawn_made("full", full, &b);
    ck_assert_uint_eq(differing(&a, &b, 120, 100, 480, 480), 0);
    ck_assert_uint_eq(differing(&a, &b, 556, 50, 784, 200), 0);
    ck_assert_uint_gt(differing(&a, &b, 0, 0, 800, 600), 5000);
    drawn_close(&a);
    drawn_close(&b);
}
END_TEST

/* Breaks if a scene of clutter without a target can't be made, or another seed draws the same. */
START_TEST(clutter_needs_no_target)
{
    const char *const one[] = {SMALL, "only=swatches", "marks.target=false", "clutter.amount=0.7", NULL};
    const char *const two[] = {
        SMALL, "only=swatches", "marks.target=false", "clutter.amount=0.7", "clutter.seed=2", NULL};
    drawn_picture a, b;
    drawn_made("one", one, &a);
    drawn_made("two", two, &b);
    ck_assert_uint_gt(differing(&a, &b, 0, 0, 800, 600), 50000);
    drawn_close(&a);
    drawn_close(&b);
    json_t *truth = drawn_json("one", "truth.json");
    ck_assert_ptr_null(drawn_key(truth, "target"));
    json_decref(truth);
}
END_TEST

/* Breaks if the flat field's light isn't that of the photograph it belongs to. The middle has the card's L*;
   the top left corner has u = v = -1/2 off the middle: 1 - 0.4 (-0.25 - 0.125 + 0.5) = 0.95 of its light, the
   bottom right 0.65. 0.2 L*: 8 bits, and boxes of some pixels. */
START_TEST(flat_field_has_the_same_light)
{
    const char *const sets[] = {SMALL, "only=flat", "flat.lstar=70", "camera.uneven=0.4", NULL};
    double middle[3], first[3], last[3];
    drawn_picture picture;
    drawn_made("flat", sets, &picture);
    drawn_lab(&picture, 396, 296, 8, 8, middle);
    drawn_lab(&picture, 0, 0, 4, 4, first);
    drawn_lab(&picture, 796, 596, 4, 4, last);
    drawn_close(&picture);
    ck_assert_double_eq_tol(middle[0], 70, 0.2);
    ck_assert_double_eq_tol(first[0], 86 * cbrt(0.95) - 16, 0.2);
    ck_assert_double_eq_tol(last[0], 86 * cbrt(0.65) - 16, 0.4);
    json_t *truth = drawn_json("flat", "truth.json");
    ck_assert_double_eq_tol(json_number_value(drawn_key(truth, "flat.lstar")), 70, 1e-9);
    json_decref(truth);
}
END_TEST

/* Where a rising edge along a row passes a share of its rise, px. */
static double crossing(const drawn_picture *picture, size_t y, size_t x0, size_t x1, double share)
{
    double low[3], high[3], before = 0;
    drawn_xyz(picture, x0, y, 4, 1, low);
    drawn_xyz(picture, x1, y, 4, 1, high);
    for (size_t x = x0; x < x1; x++) {
        double here[3];
        drawn_xyz(picture, x, y, 1, 1, here);
        const double rise = (here[1] - low[1]) / (high[1] - low[1]);
        if (rise >= share && x > x0)
            return (double)x - (rise - share) / (rise - before);
        before = rise;
    }
    return NAN;
}

/* Breaks if motion blur isn't a running mean of its length: of a step it makes a ramp, 80 % of which is the
   10-90 % rise: 0.8 x 20 px along the motion, 1 for the pixels themselves; none across it. */
START_TEST(motion_draws_a_ramp)
{
    const char *const along[] = {SMALL,
                                 "camera.bits=16",
                                 "only=swatches",
                                 "camera.motion_px=20",
                                 "greys=[{\"at_mm\":[100,150],\"size_mm\":[120,120],\"lstar\":90}]",
                                 NULL};
    const char *const across[] = {SMALL,
                                  "camera.bits=16",
                                  "only=swatches",
                                  "camera.motion_px=20",
                                  "camera.motion_deg=90",
                                  "greys=[{\"at_mm\":[100,150],\"size_mm\":[120,120],\"lstar\":90}]",
                                  NULL};
    const char *const *const both[2] = {along, across};
    static const double wanted[2] = {16, 0.8};
    for (size_t i = 0; i < 2; i++) {
        drawn_picture picture;
        drawn_made("motion", both[i], &picture);
        const double rise = crossing(&picture, 300, 65, 160, 0.9) - crossing(&picture, 300, 65, 160, 0.1);
        ck_assert_double_eq_tol(rise, wanted[i], 1.2);
        drawn_close(&picture);
    }
}
END_TEST

/* Breaks if truth files of scenes without any of this changed. */
START_TEST(plain_truth_is_as_it_was)
{
    static const char *const gone[] = {
        "target",         "greys",        "swatches",    "params.lamp",
        "params.clutter", "params.quick", "params.only", "params.target.tilt_deg"};
    const char *const sets[] = {"size=[400,300]", "camera.format=png", NULL};
    ck_assert_int_eq(drawn_make("quiet", sets), 0);
    json_t *truth = drawn_json("quiet", "truth.json");
    for (size_t i = 0; i < sizeof gone / sizeof gone[0]; i++)
        ck_assert_msg(!drawn_key(truth, gone[i]), "%s", gone[i]);
    ck_assert_ptr_nonnull(drawn_key(truth, "params.target.turn_deg"));
    json_decref(truth);
}
END_TEST

/* Breaks if a mistyped scene draws something else in silence. */
START_TEST(bad_scenes_are_refused)
{
    static const char *const bad[] = {"target.dirt=[25]",
                                      "target.dirt=[0]",
                                      "greys=[{}]",
                                      "greys=[7]",
                                      "swatches=[{\"levl\":3}]",
                                      "swatches=[{\"name\":\"x\"}]",
                                      "lamp={\"cct\":5000,\"kelvin_planck\":2900}",
                                      "lamp.cct=2000",
                                      "only=hair",
                                      "clutter.amount=2",
                                      "camera.sensitivity=own",
                                      "target.shade=0.5",
                                      "target.tilt_deg=90"};
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        const char *const sets[] = {bad[i], NULL};
        ck_assert_msg(drawn_make("bad", sets) == 3, "%s", bad[i]);
    }
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {clutter_stays_in_the_background,
                                  clutter_needs_no_target,
                                  flat_field_has_the_same_light,
                                  motion_draws_a_ramp,
                                  plain_truth_is_as_it_was,
                                  bad_scenes_are_refused,
                                  NULL};
    return run_suite("scene faults", tests);
}
