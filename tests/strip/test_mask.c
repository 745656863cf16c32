/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: burnt out, transparent or excluded pixels averaged in, shares of the zone that are lost. */
#include "strip_bench.h"

static double half_burnt(double x, double y)
{
    (void)y;
    return x < 50 ? 1 : 0.2;
}

START_TEST(burnt_out_cells_are_masked)
{
    bench on;
    set_up(&on, 100, 200, half_burnt);
    path(&on, 2, (double[]){50, 20, 50, 180}, 60);
    ck_assert_int_eq(lay_out(&on), TDM_OK);
    ck_assert_double_eq_tol(on.strip.clipped_share, 0.5, 1e-9);
    ck_assert_double_eq_tol(on.strip.used_share, 0.5, 1e-9);
    for (size_t i = 0; i < on.strip.rows * on.strip.cols; i++) {
        if (on.strip.use[i])
            ck_assert_double_eq_tol((double)on.strip.xyz[3 * i + 1], 0.2, exact);
    }
    tear_down(&on);
}
END_TEST

START_TEST(transparent_pixels_are_not_averaged_in)
{
    bench on;
    set_up(&on, 100, 200, plain);
    on.pixels.opaque = malloc(100 * 200);
    ck_assert_ptr_nonnull(on.pixels.opaque);
    for (size_t i = 0; i < 100 * 200; i++) {
        on.pixels.opaque[i] = i % 100 >= 35;
        if (!on.pixels.opaque[i])
            on.pixels.rgb16[3 * i] = on.pixels.rgb16[3 * i + 1] = 40000; /* must not be seen */
    }
    path(&on, 2, (double[]){50, 20, 50, 180}, 60);
    ck_assert_int_eq(lay_out(&on), TDM_OK);
    ck_assert_double_eq_tol(on.strip.transparent_share, 0.25, 1e-9);
    for (size_t i = 0; i < on.strip.rows * on.strip.cols; i++) {
        if (on.strip.use[i])
            ck_assert_double_eq_tol((double)on.strip.xyz[3 * i + 1], 0.2, exact);
    }
    tear_down(&on);
}
END_TEST

START_TEST(exclusions_are_polygons)
{
    bench on;
    double triangle[] = {20, 20, 80, 20, 20, 180}; /* area 60 × 160 / 2 of 60 × 160 */
    tdm_polyline exclude = {triangle, 3};
    set_up(&on, 100, 200, plain);
    on.marks.excludes = &exclude;
    on.marks.exclude_count = 1;
    path(&on, 2, (double[]){50, 20, 50, 180}, 60);
    ck_assert_int_eq(lay_out(&on), TDM_OK);
    ck_assert_double_eq_tol(on.strip.excluded_share, 0.5, 0.01);
    ck_assert(
        on.strip.use[159 * 60 + 0]); /* lower right: left in the strip, since the right hand is the left */
    ck_assert(!on.strip.use[0 * 60 + 59]); /* upper left */
    ck_assert(on.strip.use[100 * 60 + 0]);
    tear_down(&on);
}
END_TEST

START_TEST(all_excluded_is_unusable)
{
    bench on;
    double square[] = {0, 0, 100, 0, 100, 200, 0, 200};
    tdm_polyline exclude = {square, 4};
    set_up(&on, 100, 200, plain);
    on.marks.excludes = &exclude;
    on.marks.exclude_count = 1;
    path(&on, 2, (double[]){50, 20, 50, 180}, 60);
    ck_assert_int_eq(lay_out(&on), TDM_ERR_UNUSABLE);
    ck_assert_str_eq(on.error.place, "zones[0]");
    tear_down(&on);
}
END_TEST

START_TEST(half_off_the_picture)
{
    bench on;
    set_up(&on, 100, 200, plain);
    path(&on, 2, (double[]){0, 20, 0, 180}, 60);
    ck_assert_int_eq(lay_out(&on), TDM_OK);
    ck_assert_double_eq_tol(on.strip.outside_share, 0.5, 1e-9);
    ck_assert_double_eq_tol(on.strip.used_share, 0.5, 1e-9);
    tear_down(&on);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {burnt_out_cells_are_masked, transparent_pixels_are_not_averaged_in,
                                  exclusions_are_polygons,    all_excluded_is_unusable,
                                  half_off_the_picture,       NULL};
    return run_suite("mask", tests);
}
