/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a curve that misses its points, wrong arc length, a frame that isn't at right angles. */
#include <gsl/gsl_math.h>
#include <math.h>

#include "strip/path.h"
#include "suite.h"

static void make(double *xy, size_t points, double *widths, tdm_path *out)
{
    const tdm_zone_marks zone = {.path = {.xy = xy, .count = points}, .widths = widths};
    tdm_error error = {0};
    ck_assert_int_eq(tdm_path_make(&zone, 1, out, &error), TDM_OK);
}

START_TEST(a_straight_path_is_exact)
{
    double xy[] = {10, 20, 13, 24, 40, 60}, widths[] = {10, 10, 10}; /* three points of the line 3 : 4 */
    tdm_path path;
    make(xy, 3, widths, &path);
    ck_assert_double_eq_tol(tdm_path_length(&path), 50, 1e-9);
    const tdm_path_place place = tdm_path_at(&path, 30);
    ck_assert_double_eq_tol(place.x, 28, 1e-9);
    ck_assert_double_eq_tol(place.y, 44, 1e-9);
    ck_assert_double_eq_tol(place.dx, 0.6, 1e-9);
    ck_assert_double_eq_tol(place.dy, 0.8, 1e-9);
    tdm_path_free(&path);
}
END_TEST

/* Nine points of a quarter circle of radius 400: length pi/2 × 400. The spline's ends are straight rather
 * than round; 0.1 % is half a pixel. */
START_TEST(a_quarter_circle)
{
    double xy[18], widths[9];
    tdm_path path;
    for (int i = 0; i < 9; i++) {
        xy[2 * i] = 500 + 400 * cos(M_PI / 2 * i / 8);
        xy[2 * i + 1] = 500 + 400 * sin(M_PI / 2 * i / 8);
        widths[i] = 50;
    }
    make(xy, 9, widths, &path);
    ck_assert_double_eq_tol(tdm_path_length(&path), M_PI / 2 * 400, 0.2);
    for (double along = 0; along < 628; along += 7) {
        const tdm_path_place place = tdm_path_at(&path, along);
        ck_assert_double_eq_tol(hypot(place.x - 500, place.y - 500), 400, 0.1);
        ck_assert_double_eq_tol(hypot(place.dx, place.dy), 1, 1e-9);
    }
    tdm_path_free(&path);
}
END_TEST

START_TEST(the_curve_goes_through_its_points)
{
    double xy[] = {0, 0, 30, 80, 20, 200, 90, 210}, widths[] = {10, 20, 40, 10};
    tdm_path path;
    make(xy, 4, widths, &path);
    for (size_t k = 0; k < 4; k++) {
        double nearest = INFINITY, width = 0;
        for (size_t i = 0; i < path.count; i++) {
            const double gap = hypot(path.xy[2 * i] - xy[2 * k], path.xy[2 * i + 1] - xy[2 * k + 1]);
            if (gap < nearest) {
                nearest = gap;
                width = path.width[i];
            }
        }
        ck_assert_double_lt(nearest, 1e-9);
        ck_assert_double_eq_tol(width, widths[k], 1e-9);
    }
    ck_assert_double_eq_tol(tdm_path_widest(&path), 40, 1e-9);
    tdm_path_free(&path);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {a_straight_path_is_exact, a_quarter_circle,
                                  the_curve_goes_through_its_points, NULL};
    return run_suite("path", tests);
}
