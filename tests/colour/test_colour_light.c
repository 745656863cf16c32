/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: the order of the terms, the coordinates, a row against single places. */
#include <math.h>

#include "colour/drawn.h"
#include "colour/light.h"
#include "suite.h"

/* All 15 terms, each its own size. */
static tdm_light bent(int degree, uint32_t width, uint32_t height)
{
    tdm_light light = {.degree = degree, .width = width, .height = height};
    for (int c = 0; c < 3; c++) {
        for (int i = 0; i < TDM_LIGHT_TERMS; i++)
            light.stops[c][i] = 0.1 * sin(1.0 + 3 * i + 7 * c);
    }
    return light;
}

/* The sum as the header states it, written out by hand. */
static double direct(const tdm_light *light, int c, double x, double y)
{
    const double half = (light->width > light->height ? light->width : light->height) / 2.0;
    const double u = (x - light->width / 2.0) / half, v = (y - light->height / 2.0) / half;
    const double terms[TDM_LIGHT_TERMS] = {1,
                                           u,
                                           v,
                                           u * u,
                                           u * v,
                                           v * v,
                                           u * u * u,
                                           u * u * v,
                                           u * v * v,
                                           v * v * v,
                                           u * u * u * u,
                                           u * u * u * v,
                                           u * u * v * v,
                                           u * v * v * v,
                                           v * v * v * v};
    static const int count[5] = {1, 3, 6, 10, 15};
    double stops = 0;
    for (int i = 0; i < count[light->degree]; i++)
        stops += light->stops[c][i] * terms[i];
    return pow(2, -stops);
}

/* 1e-12: rounding of doubles; 5e-7: single precision, in which rows are made. */
START_TEST(places_and_rows_against_the_sum)
{
    const uint32_t sides[2][2] = {{600, 400}, {300, 500}};
    double worst = 0, worst_row = 0;
    for (int k = 0; k < 8; k++) {
        const tdm_light light = bent(1 + k % 4, sides[k / 4][0], sides[k / 4][1]);
        for (uint32_t y = 0; y < light.height; y += 37) {
            float row[3 * 300];
            tdm_light_row(&light, 0.5, y + 0.5, 300, row);
            for (uint32_t x = 0; x < 300; x++) {
                double factors[3];
                tdm_light_at(&light, x + 0.5, y + 0.5, factors);
                for (size_t c = 0; c < 3; c++) {
                    const double truth = direct(&light, (int)c, x + 0.5, y + 0.5);
                    worst = worse(worst, fabs(factors[c] / truth - 1));
                    worst_row = worse(worst_row, fabs((double)row[3 * x + c] / truth - 1));
                }
            }
        }
    }
    ck_assert_double_lt(worst, 1e-12);
    ck_assert_double_lt(worst_row, 5e-7);
}
END_TEST

START_TEST(even_light_is_one)
{
    const tdm_light even = bent(0, 0, 0);
    float row[12];
    double factors[3];
    tdm_light_row(&even, 3, 4, 4, row);
    tdm_light_at(&even, 3, 4, factors);
    for (int i = 0; i < 12; i++)
        ck_assert(row[i] == 1.0F);
    for (int c = 0; c < 3; c++)
        ck_assert(factors[c] == 1.0);
}
END_TEST

/* Another place counts as 1; ratios between places stay. */
START_TEST(centre_moves_only_the_constant)
{
    tdm_light light = bent(4, 640, 480);
    double before[3], after[3], here[3], at[3];
    tdm_light_at(&light, 100, 50, before);
    tdm_light_at(&light, 300, 400, at);
    tdm_light_centre(&light, 300, 400);
    tdm_light_at(&light, 100, 50, after);
    tdm_light_at(&light, 300, 400, here);
    for (int c = 0; c < 3; c++) {
        ck_assert_double_eq_tol(here[c], 1, 1e-12);
        ck_assert_double_eq_tol(after[c], before[c] / at[c], 1e-12);
    }
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {places_and_rows_against_the_sum, even_light_is_one,
                                  centre_moves_only_the_constant, NULL};
    return run_suite("light", tests);
}
