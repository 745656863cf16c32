/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: groups that touch only by a corner told apart, a place that is off by half a square or on the
 * wrong side, masked cells counted. */
#include <math.h>
#include <string.h>

#include "measure/squares.h"
#include "measure/synthetic.h"
#include "suite.h"

START_TEST(groups_touch_by_side_or_corner)
{
    static const char drawn[] = "##..."
                                "..#.."
                                "....#"
                                "#...#";
    uint8_t mark[20];
    size_t queue[20];
    tdm_squares squares = {.rows = 4, .cols = 5, .side = 1, .mark = mark, .queue = queue};
    for (size_t i = 0; i < 20; i++)
        mark[i] = drawn[i] == '#';
    const tdm_square_group first = tdm_squares_gather(&squares, 0);
    ck_assert_uint_eq(first.count, 3);
    ck_assert_uint_eq(first.top, 0);
    ck_assert_uint_eq(first.bottom, 2);
    ck_assert_uint_eq(first.left, 0);
    ck_assert_uint_eq(first.right, 3);
    ck_assert_uint_eq(tdm_squares_gather(&squares, 0).count, 0); /* taken */
    ck_assert_uint_eq(tdm_squares_gather(&squares, 14).count, 2);
    ck_assert_uint_eq(tdm_squares_gather(&squares, 15).count, 1);
}
END_TEST

static void plain(double s, double t, const void *about, double lab[3])
{
    (void)t;
    (void)about;
    lab[0] = s < 10 ? 20 : 60;
    lab[1] = lab[2] = 0;
}

/* A strip of 40 by 20 mm that begins 5 mm below the root: squares 2 to 4 of 2 mm from the left, 3 to 4 down.
 */
START_TEST(a_place_is_in_mm_from_root_and_path)
{
    synthetic_zone zone;
    synthetic_zone_make(synthetic_strip(40, 20, plain, NULL), &zone);
    zone.strip.root = 5;
    const tdm_square_group group = {.top = 3, .bottom = 5, .left = 2, .right = 5};
    const tdm_place place = tdm_square_place(&zone.strip, 2, &group);
    ck_assert_double_eq_tol(place.mm, 5 + 8, 1e-9);
    ck_assert_double_eq_tol(place.across_mm, 7 - 10, 1e-9);
    ck_assert_double_eq_tol(place.length_mm, 4, 1e-9);
    ck_assert_double_eq_tol(place.width_mm, 6, 1e-9);
    synthetic_zone_free(&zone);
}
END_TEST

START_TEST(sums_leave_out_what_is_masked_or_beyond)
{
    synthetic_zone zone;
    double xyz[3];
    synthetic_zone_make(synthetic_strip(40, 20, plain, NULL), &zone);
    memset(zone.strip.use, 0, zone.strip.cols); /* the first row */
    ck_assert_double_eq(tdm_square_sum(&zone.strip, 0, 4, 0, 4, xyz), 12);
    /* L* 20: Y = (36 / 116)³ (ISO/CIE 11664-4) */
    ck_assert_double_eq_tol(xyz[1] / 12, pow(36.0 / 116, 3), 1e-6);
    ck_assert_double_eq(tdm_square_sum(&zone.strip, 158, 4, 78, 4, xyz), 4); /* of 160 by 80 */
    synthetic_zone_free(&zone);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {groups_touch_by_side_or_corner, a_place_is_in_mm_from_root_and_path,
                                  sums_leave_out_what_is_masked_or_beyond, NULL};
    return run_suite("squares", tests);
}
