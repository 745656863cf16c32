/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a place of the straightened zone shown elsewhere in the photograph than where its colour came
 * from. */
#include <gsl/gsl_math.h>
#include <math.h>

#include "strip/way.h"
#include "suite.h"

/* Clockwise round 500, 500 at a radius of 400, from the right to the bottom: what lies to the right of the
 * way lies nearer to the middle. 0.1 % is the spline's own error, as in the path's test. */
START_TEST(along_a_quarter_circle)
{
    double xy[18], widths[9];
    tdm_zone_marks zone = {.path = {.xy = xy, .count = 9}, .width_in_mm = true, .widths = widths};
    const tdm_marks marks = {.has_scale = true, .mm_per_px = 0.2, .zones = &zone, .zone_count = 1};
    tdm_strip_way way;
    tdm_error error = {0};
    for (int i = 0; i < 9; i++) {
        xy[2 * i] = 500 + 400 * cos(M_PI / 2 * i / 8);
        xy[2 * i + 1] = 500 + 400 * sin(M_PI / 2 * i / 8);
        widths[i] = 30;
    }
    ck_assert_int_eq(tdm_strip_way_make(&marks, 0, 5, &way, &error), TDM_OK);
    for (double mm = 0; mm <= 125; mm += 5) {
        for (double across = -15; across <= 15; across += 5) {
            const double angle = 5 * mm / 400, radius = 400 - 5 * across;
            double at[2];
            tdm_strip_way_back(&way, mm, across, at);
            ck_assert_double_eq_tol(at[0], 500 + radius * cos(angle), 0.6);
            ck_assert_double_eq_tol(at[1], 500 + radius * sin(angle), 0.6);
        }
        ck_assert_double_eq_tol(tdm_strip_way_width(&way, mm), 30, 1e-9);
    }
    tdm_strip_way_free(&way);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {along_a_quarter_circle, NULL};
    return run_suite("way", tests);
}
