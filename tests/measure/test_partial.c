/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: mixed places counted as all light or all dark, pure means pulled together by them. */
#include <math.h>

#include "measure/partial.h"
#include "measure/synthetic.h"
#include "suite.h"

enum { VALUES = 20000 };

/* Pure dark at 10, pure light at 22, noise of sd 1.2; mixed places of every proportion between. */
static void draw(double dark, double mixed, double *values, double *weights)
{
    for (unsigned i = 0; i < VALUES; i++) {
        const double kind = (i + 0.5) / VALUES;
        const double light = kind < dark ? 0 : kind < dark + mixed ? (kind - dark) / mixed : 1;
        values[i] = 10 + 12 * light + 1.2 * synthetic_noise(i, 5);
        weights[i] = 1;
    }
}

static void fit(double dark, double mixed, tdm_partial *out, tdm_mixture *two)
{
    static double values[VALUES], weights[VALUES];
    tdm_mixture start = {.mean = {10, 22}, .sd = 2, .share = 0.5};
    draw(dark, mixed, values, weights);
    ck_assert(tdm_mixture_fit(values, weights, VALUES, 0.1, &start, two));
    start = *two;
    const tdm_partial from = tdm_partial_start(&start);
    ck_assert(tdm_partial_fit(values, weights, VALUES, 0.1, 2000, &from, out));
}

/* The share is that of light hair, pure dark + mixed / 2 known by drawing. 0.02: five steps stand for all
 * proportions. */
START_TEST(share_and_pure_means_of_a_drawn_mixture)
{
    static const double darks[] = {0.4, 0.2, 0.6}, mixes[] = {0.5, 0.6, 0.3};
    for (int i = 0; i < 3; i++) {
        tdm_partial found;
        tdm_mixture two;
        fit(darks[i], mixes[i], &found, &two);
        ck_assert_double_eq_tol(tdm_partial_share(&found), 1 - darks[i] - 0.5 * mixes[i], 0.02);
        ck_assert_double_eq_tol(found.mean[0], 10, 0.4);
        ck_assert_double_eq_tol(found.mean[1], 22, 0.4);
        ck_assert_double_eq_tol(found.weight[0] + found.weight[1] + found.weight[2], 1, 1e-9);
        /* what the plain two-part mixture makes of it: means too close together by the mixed places */
        ck_assert_double_lt(two.mean[1] - two.mean[0], 11.5);
    }
}
END_TEST

START_TEST(without_mixed_places_it_is_the_plain_mixture)
{
    tdm_partial found;
    tdm_mixture two;
    fit(0.7, 1e-9, &found, &two);
    ck_assert_double_eq_tol(tdm_partial_share(&found), 0.3, 0.01);
    ck_assert_double_eq_tol(tdm_partial_share(&found), two.share, 0.01);
    ck_assert_double_lt(found.weight[1], 0.05);
}
END_TEST

START_TEST(one_value_has_no_two_means)
{
    const double values[] = {5, 5, 5}, weights[] = {1, 1, 1};
    const tdm_partial start = {.mean = {5, 5}, .sd = 1, .weight = {0.4, 0.2, 0.4}};
    tdm_partial out = {.sd = -3};
    ck_assert(!tdm_partial_fit(values, weights, 3, 0.1, 50, &start, &out));
    ck_assert_double_eq(out.sd, -3);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {share_and_pure_means_of_a_drawn_mixture,
                                  without_mixed_places_it_is_the_plain_mixture, one_value_has_no_two_means,
                                  NULL};
    return run_suite("partial", tests);
}
