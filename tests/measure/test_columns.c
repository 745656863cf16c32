/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: sums in the wrong bin or block, masked cells counted, resamples that differ from run to run.
 */
#include <math.h>

#include "colour/lab.h"
#include "measure/synthetic.h"
#include "suite.h"

static void steps_of_light(double s, double t, const void *about, double lab[3])
{
    (void)about;
    lab[0] = 20 + (s >= 10 ? 30 : 0) + (t >= 8 ? 10 : 0);
    lab[1] = 0;
    lab[2] = 0;
}

static double mean_lstar(const tdm_columns *columns, size_t from, size_t to, const uint16_t *times)
{
    double xyz[3], lab[3];
    ck_assert(tdm_columns_mean(columns, from, to, times, xyz));
    tdm_xyz_to_lab(xyz, lab);
    return lab[0];
}

START_TEST(bins_and_blocks_hold_their_own_cells)
{
    tdm_strip strip = synthetic_strip(20, 16, steps_of_light, NULL);
    tdm_columns columns;
    tdm_error error = {0};
    ck_assert_int_eq(tdm_columns_make(&strip, 32, &columns, &error), TDM_OK);
    ck_assert_uint_eq(columns.blocks, 2);
    ck_assert_uint_eq(columns.bins, 80);
    const uint16_t left[] = {1, 0}, right[] = {0, 3};
    /* float storage keeps L* to 1e-4 */
    ck_assert_double_eq_tol(mean_lstar(&columns, 0, 40, left), 20, 1e-3);
    ck_assert_double_eq_tol(mean_lstar(&columns, 40, 80, left), 50, 1e-3);
    ck_assert_double_eq_tol(mean_lstar(&columns, 0, 40, right), 30, 1e-3);
    ck_assert_double_eq_tol(mean_lstar(&columns, 40, 80, right), 60, 1e-3);
    tdm_columns_free(&columns);
    free(strip.xyz), free(strip.lab), free(strip.use);
}
END_TEST

/* Light averages, L* doesn't: black and white halves have Y = 0.5, which is L* 76.07 (ISO/CIE 11664-4). */
static void half_white(double s, double t, const void *about, double lab[3])
{
    (void)s, (void)about;
    lab[0] = t < 8 ? 0 : 100;
    lab[1] = lab[2] = 0;
}

START_TEST(means_are_of_light)
{
    tdm_strip strip = synthetic_strip(20, 16, half_white, NULL);
    tdm_columns columns;
    tdm_error error = {0};
    ck_assert_int_eq(tdm_columns_make(&strip, 64, &columns, &error), TDM_OK);
    ck_assert_double_eq_tol(mean_lstar(&columns, 0, columns.bins, NULL), 76.0693, 1e-2);
    tdm_columns_free(&columns);
    free(strip.xyz), free(strip.lab), free(strip.use);
}
END_TEST

START_TEST(masked_cells_do_not_count)
{
    tdm_strip strip = synthetic_strip(20, 16, half_white, NULL);
    tdm_columns columns;
    tdm_error error = {0};
    for (size_t i = 0; i < strip.rows * strip.cols; i++)
        strip.use[i] = i % strip.cols < 32; /* the black half */
    ck_assert_int_eq(tdm_columns_make(&strip, 64, &columns, &error), TDM_OK);
    ck_assert_double_eq_tol(mean_lstar(&columns, 0, columns.bins, NULL), 0, 1e-6);
    for (size_t i = 0; i < strip.rows * strip.cols; i++)
        strip.use[i] = 0;
    tdm_columns_free(&columns);
    ck_assert_int_eq(tdm_columns_make(&strip, 64, &columns, &error), TDM_OK);
    double xyz[3];
    ck_assert(!tdm_columns_mean(&columns, 0, columns.bins, NULL, xyz));
    tdm_columns_free(&columns);
    free(strip.xyz), free(strip.lab), free(strip.use);
}
END_TEST

/* One white cell in a row of 400 dark ones is dust: the trim takes it out. */
static void dust(double s, double t, const void *about, double lab[3])
{
    (void)s, (void)about;
    lab[0] = t > 50 && t < 50.25 ? 100 : 25;
    lab[1] = lab[2] = 0;
}

START_TEST(dust_is_trimmed)
{
    tdm_strip strip = synthetic_strip(10, 100, dust, NULL);
    tdm_columns columns;
    tdm_error error = {0};
    ck_assert_int_eq(tdm_columns_make(&strip, 400, &columns, &error), TDM_OK);
    ck_assert_double_eq_tol(mean_lstar(&columns, 0, columns.bins, NULL), 25, 1e-3);
    tdm_columns_free(&columns);
    free(strip.xyz), free(strip.lab), free(strip.use);
}
END_TEST

START_TEST(resamples_draw_every_block_once_on_average_and_repeat)
{
    tdm_resampling a, b;
    tdm_error error = {0};
    ck_assert_int_eq(tdm_resampling_make(500, 20, 7, &a, &error), TDM_OK);
    ck_assert_int_eq(tdm_resampling_make(500, 20, 7, &b, &error), TDM_OK);
    for (size_t i = 0; i < 500; i++) {
        unsigned sum = 0;
        for (size_t k = 0; k < 20; k++) {
            sum += a.times[i * 20 + k];
            ck_assert_uint_eq(a.times[i * 20 + k], b.times[i * 20 + k]);
        }
        ck_assert_uint_eq(sum, 20);
    }
    tdm_resampling_free(&a);
    tdm_resampling_free(&b);
}
END_TEST

/* Stripes 6 mm wide: neighbours agree for a good part of a stripe, so the length must be between 2 mm and a
 * stripe. */
static void stripes(double s, double t, const void *about, double lab[3])
{
    (void)s, (void)about;
    lab[0] = fmod(t, 12) < 6 ? 25 : 45;
    lab[1] = lab[2] = 0;
}

START_TEST(correlation_length_follows_the_stripes)
{
    tdm_strip strip = synthetic_strip(20, 120, stripes, NULL);
    size_t cells = 0;
    tdm_error error = {0};
    ck_assert_int_eq(tdm_columns_correlation(&strip, &cells, &error), TDM_OK);
    const double mm = (double)cells * strip.cell;
    ck_assert_msg(mm >= 2 && mm <= 6, "%g", mm);
    free(strip.xyz), free(strip.lab), free(strip.use);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {bins_and_blocks_hold_their_own_cells,
                                  means_are_of_light,
                                  masked_cells_do_not_count,
                                  dust_is_trimmed,
                                  resamples_draw_every_block_once_on_average_and_repeat,
                                  correlation_length_follows_the_stripes,
                                  NULL};
    return run_suite("columns", tests);
}
