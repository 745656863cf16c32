/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: hair left alone that is darker than the level, or lightened twice that isn't; a share of other
 * places than those that are known; a single bright cell taken for a light strand. */
#include <math.h>
#include <stdlib.h>

#include "colour/lab.h"
#include "plan/skip.h"
#include "suite.h"

enum { ROWS = 40, COLS = 8 };

/* Columns of level 4, 5 … 11 of the default scale, cells of 0.25 mm. Column 7 isn't used. */
static tdm_strip made_strip(void)
{
    const tdm_level_scale scale = tdm_level_scale_default();
    tdm_strip strip = {.rows = ROWS, .cols = COLS, .scaled = true, .cell = 0.25, .length = 10, .width = 2};
    strip.xyz = calloc(3 * ROWS * COLS, sizeof *strip.xyz);
    strip.use = calloc(ROWS * COLS, 1);
    ck_assert(strip.xyz && strip.use);
    for (size_t i = 0; i < ROWS * COLS; i++) {
        const double lab[3] = {tdm_level_to_lstar(&scale, 4 + (double)(i % COLS)), 5, 10};
        double xyz[3];
        tdm_lab_to_xyz(lab, xyz);
        for (size_t k = 0; k < 3; k++)
            strip.xyz[3 * i + k] = (float)xyz[k];
        strip.use[i] = i % COLS < 7;
    }
    return strip;
}

START_TEST(at_the_level_or_above)
{
    const tdm_level_scale scale = tdm_level_scale_default();
    tdm_strip strip = made_strip();
    tdm_skip_map map;
    tdm_error error = {0};
    /* Of levels 4 to 10 three are at 7.9 or above; wrong by 1.2 they would be four, or one. */
    ck_assert_int_eq(tdm_skip_by_level(&strip, &scale, 7.9, 1.2, &map, &error), TDM_OK);
    ck_assert_uint_eq(map.windows, 10); /* of 1 mm */
    ck_assert_uint_eq(map.cols, COLS);
    ck_assert_double_eq_tol(map.window, 1, 1e-12);
    for (size_t i = 0; i < map.windows * map.cols; i++)
        ck_assert_int_eq(map.state[i], i % COLS == 7   ? TDM_SKIP_UNKNOWN
                                       : i % COLS >= 4 ? TDM_SKIP_LEAVE
                                                       : TDM_SKIP_MAY);
    ck_assert_double_eq_tol(map.share.value, 3.0 / 7, 1e-12);
    ck_assert_double_eq_tol(map.share.u, 0.5 * (4 - 1) / 7.0, 1e-12);
    tdm_skip_map_free(&map);
    ck_assert_int_eq(tdm_skip_by_level(&strip, &scale, 7.9, NAN, &map, &error), TDM_OK);
    ck_assert_double_eq_tol(map.share.value, 3.0 / 7, 1e-12);
    ck_assert(isnan(map.share.u));
    tdm_skip_map_free(&map);
    tdm_strip_free(&strip);
}
END_TEST

/* A cell as light as level 6 between three of level 4 is no hair of level 5. */
START_TEST(one_bright_cell_is_no_strand)
{
    const tdm_level_scale scale = tdm_level_scale_default();
    tdm_strip strip = made_strip();
    tdm_skip_map map;
    tdm_error error = {0};
    for (size_t k = 0; k < 3; k++)
        strip.xyz[3 * 9 * COLS + k] = strip.xyz[3 * 2 + k];
    ck_assert_int_eq(tdm_skip_by_level(&strip, &scale, 5, 0, &map, &error), TDM_OK);
    for (size_t row = 0; row < map.windows; row++)
        ck_assert_int_eq(map.state[row * COLS], TDM_SKIP_MAY);
    tdm_skip_map_free(&map);
    tdm_strip_free(&strip);
}
END_TEST

START_TEST(by_the_light_strands)
{
    float light[6] = {0.9F, 0.1F, NAN, 0.5F, 0.49F, 0.7F};
    struct tdm_zone_reading zone = {
        .strands = {.separable = true,
                    .light_share = {.value = 0.4, .u = 0.2},
                    .map = {.windows = 2, .cols = 3, .from = 12, .window = 2, .cell = 0.25, .light = light}}};
    tdm_skip_map map;
    tdm_error error = {0};
    const int wanted[6] = {TDM_SKIP_LEAVE, TDM_SKIP_MAY, TDM_SKIP_UNKNOWN,
                           TDM_SKIP_LEAVE, TDM_SKIP_MAY, TDM_SKIP_LEAVE};
    ck_assert_int_eq(tdm_skip_by_strands(&zone, &map, &error), TDM_OK);
    for (size_t i = 0; i < 6; i++)
        ck_assert_int_eq(map.state[i], wanted[i]);
    ck_assert_double_eq_tol(map.share.value, 0.6, 1e-12);
    ck_assert_double_eq(map.share.u, 0.2);
    ck_assert_double_eq(map.from, 12);
    tdm_skip_map_free(&map);
    ck_assert_ptr_null(map.state);
    /* Not separable: nothing is known, and it isn't an error. */
    zone.strands.separable = false;
    ck_assert_int_eq(tdm_skip_by_strands(&zone, &map, &error), TDM_OK);
    ck_assert(map.windows == 0 && isnan(map.share.value));
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {at_the_level_or_above, one_bright_cell_is_no_strand, by_the_light_strands,
                                  NULL};
    return run_suite("skip", tests);
}
