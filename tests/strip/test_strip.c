/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: rows and columns in the wrong place or order, means of L* instead of light, limits not
 * kept. */
#include <gsl/gsl_math.h>
#include <math.h>

#include "colour/lab.h"
#include "strip_bench.h"

static double downwards(double x, double y)
{
    (void)x;
    return 0.1 + y / 1000;
}

START_TEST(rows_run_from_the_root)
{
    bench on;
    set_up(&on, 200, 500, downwards);
    scale(&on, 0.1);
    path(&on, 2, (double[]){100, 50, 100, 450}, 100);
    ck_assert_int_eq(lay_out(&on), TDM_OK);
    ck_assert(on.strip.scaled);
    ck_assert_double_eq_tol(on.strip.cell, 0.25, 1e-12);
    ck_assert_double_eq_tol(on.strip.length, 40, 1e-9);
    ck_assert_double_eq_tol(on.strip.width, 10, 1e-9);
    ck_assert_uint_eq(on.strip.rows, 160);
    ck_assert_uint_eq(on.strip.cols, 40);
    for (size_t row = 0; row < 160; row += 13)
        /* a cell of 2.5 px over pixels of whole height: up to half a pixel of the slope */
        ck_assert_double_eq_tol(y_at(&on.strip, row, 20), 0.1 + (50 + 2.5 * ((double)row + 0.5)) / 1000,
                                6e-4);
    ck_assert_double_eq_tol(on.strip.used_share, 1, 1e-12);
    tear_down(&on);
}
END_TEST

static double rightwards(double x, double y)
{
    (void)y;
    return 0.1 + x / 1000;
}

/* Down the picture the right hand of the way from root to ends is the picture's left. */
START_TEST(columns_grow_to_the_right_of_the_fall)
{
    bench on;
    set_up(&on, 300, 300, rightwards);
    path(&on, 2, (double[]){150, 20, 150, 280}, 100);
    ck_assert_int_eq(lay_out(&on), TDM_OK);
    ck_assert_uint_eq(on.strip.cols, 100);
    ck_assert_double_eq_tol(y_at(&on.strip, 10, 0), 0.1 + 199.5 / 1000, exact);
    ck_assert_double_eq_tol(y_at(&on.strip, 10, 99), 0.1 + 100.5 / 1000, exact);
    tear_down(&on);
    set_up(&on, 300, 300, rightwards);
    path(&on, 2, (double[]){150, 280, 150, 20}, 100); /* upwards: the picture's right */
    ck_assert_int_eq(lay_out(&on), TDM_OK);
    ck_assert_double_eq_tol(y_at(&on.strip, 10, 99), 0.1 + 199.5 / 1000, exact);
    tear_down(&on);
}
END_TEST

static double radius(double x, double y)
{
    return hypot(x - 500, y - 500) / 1000;
}

/* Along a circle of radius 300 clockwise on the screen, the right hand points to the middle: a cell t to the
 * right has radius 300 - t. 0.7 px for the pixels, taken whole. */
START_TEST(an_arc_is_laid_straight)
{
    bench on;
    double xy[26];
    set_up(&on, 1000, 1000, radius);
    for (int i = 0; i < 13; i++) {
        xy[2 * i] = 500 + 300 * cos(M_PI * i / 12);
        xy[2 * i + 1] = 500 + 300 * sin(M_PI * i / 12);
    }
    path(&on, 13, xy, 120);
    ck_assert_int_eq(lay_out(&on), TDM_OK);
    ck_assert_double_eq_tol((double)on.strip.rows, M_PI * 300, 2);
    for (size_t row = 20; row + 20 < on.strip.rows; row += 50) {
        for (size_t col = 0; col < on.strip.cols; col += 10) {
            const double t = (double)col + 0.5 - 60;
            ck_assert_double_eq_tol(y_at(&on.strip, row, col), (300 - t) / 1000, 0.7e-3);
        }
    }
    tear_down(&on);
}
END_TEST

static double checks(double x, double y)
{
    return ((int)x + (int)y) % 2 ? 0.9 : 0.1;
}

/* Light averages: half 0.9 and half 0.1 is 0.5. A mean of the codes or of L* would give less. */
START_TEST(cells_average_light)
{
    bench on;
    set_up(&on, 400, 400, checks);
    scale(&on, 0.025); /* a cell is 10 by 10 px */
    path(&on, 2, (double[]){200, 50, 200, 350}, 200);
    ck_assert_int_eq(lay_out(&on), TDM_OK);
    ck_assert_double_eq_tol(on.strip.cell_px, 10, 1e-9);
    for (size_t i = 0; i < on.strip.rows * on.strip.cols; i += 7)
        ck_assert_double_eq_tol((double)on.strip.xyz[3 * i + 1], 0.5, exact);
    tear_down(&on);
}
END_TEST

START_TEST(pixels_larger_than_a_cell_make_the_cell)
{
    bench on;
    set_up(&on, 100, 100, plain);
    scale(&on, 0.5);
    path(&on, 2, (double[]){50, 10, 50, 90}, 20);
    ck_assert_int_eq(lay_out(&on), TDM_OK);
    ck_assert_double_eq_tol(on.strip.cell, 0.5, 1e-12);
    ck_assert_uint_eq(on.strip.rows, 80);
    tear_down(&on);
}
END_TEST

START_TEST(without_a_scale_the_path_is_200_long)
{
    bench on;
    set_up(&on, 100, 400, plain);
    path(&on, 2, (double[]){50, 10, 50, 390}, 40);
    ck_assert_int_eq(lay_out(&on), TDM_OK);
    ck_assert(!on.strip.scaled);
    ck_assert_double_eq_tol(on.strip.length, 200, 1e-9);
    ck_assert_double_eq_tol(on.strip.cell * (double)on.strip.rows, 200, 1e-6);
    tear_down(&on);
}
END_TEST

START_TEST(the_root_offset_needs_a_scale)
{
    bench on;
    set_up(&on, 100, 200, plain);
    path(&on, 2, (double[]){50, 20, 50, 180}, 60);
    on.zone.root_mm = 30;
    ck_assert_int_eq(lay_out(&on), TDM_OK);
    ck_assert_double_eq(on.strip.root, 0);
    tdm_strip_free(&on.strip);
    scale(&on, 0.5);
    ck_assert_int_eq(lay_out(&on), TDM_OK);
    ck_assert_double_eq(on.strip.root, 30);
    tear_down(&on);
}
END_TEST

START_TEST(width_may_vary)
{
    bench on;
    set_up(&on, 200, 300, plain);
    path(&on, 2, (double[]){100, 20, 100, 280}, 20);
    on.widths[1] = 100;
    ck_assert_int_eq(lay_out(&on), TDM_OK);
    ck_assert_uint_eq(on.strip.cols, 100);
    size_t first = 0, last = 0;
    for (size_t col = 0; col < 100; col++) {
        first += on.strip.use[col];
        last += on.strip.use[(on.strip.rows - 1) * 100 + col];
    }
    ck_assert_uint_eq(first, 20);
    ck_assert(last >= 98 && last <= 100);
    ck_assert_double_eq_tol(on.strip.used_share, 1, 1e-12); /* cells beyond the width aren't in the zone */
    tear_down(&on);
}
END_TEST

START_TEST(limit_on_cells_from_both_sides)
{
    bench on;
    tdm_limits limits = tdm_limits_default();
    set_up(&on, 100, 200, plain);
    path(&on, 2, (double[]){50, 20, 50, 180}, 60);
    limits.strip_cells = 160 * 60;
    ck_assert_int_eq(tdm_strip_make(on.device, &on.calibration, &on.pixels, &on.marks, 0, &limits, "test",
                                    &on.strip, &on.error),
                     TDM_OK);
    tdm_strip_free(&on.strip);
    limits.strip_cells--;
    ck_assert_int_eq(tdm_strip_make(on.device, &on.calibration, &on.pixels, &on.marks, 0, &limits, "test",
                                    &on.strip, &on.error),
                     TDM_ERR_LIMIT);
    tear_down(&on);
}
END_TEST

START_TEST(one_pixel)
{
    bench on;
    tdm_rect rect;
    set_up(&on, 1, 1, plain);
    path(&on, 2, (double[]){0, 0, 1, 1}, 1);
    ck_assert_int_eq(tdm_strip_rect(&on.marks, 0, &rect, &on.error), TDM_OK);
    ck_assert(rect.x == 0 && rect.y == 0 && rect.width == 1 && rect.height == 1);
    ck_assert_int_eq(lay_out(&on), TDM_OK);
    ck_assert_double_eq_tol(y_at(&on.strip, 0, 0), 0.2, exact);
    tear_down(&on);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {rows_run_from_the_root,
                                  columns_grow_to_the_right_of_the_fall,
                                  an_arc_is_laid_straight,
                                  cells_average_light,
                                  pixels_larger_than_a_cell_make_the_cell,
                                  without_a_scale_the_path_is_200_long,
                                  width_may_vary,
                                  the_root_offset_needs_a_scale,
                                  limit_on_cells_from_both_sides,
                                  one_pixel,
                                  NULL};
    return run_suite("strip", tests);
}
