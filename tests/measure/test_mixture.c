/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: EM steps, the likelihood, two parts chosen where there is one. */
#include <math.h>
#include <stdio.h>

#include "measure/mixture.h"
#include "measure/synthetic.h"
#include "suite.h"

static size_t read_values(double *values, size_t most)
{
    FILE *file = fopen(TEST_DATA "/measure/gaussian_mixture_esl.csv", "r");
    char line[1024];
    size_t count = 0;
    ck_assert_ptr_nonnull(file);
    while (count < most && fgets(line, sizeof line, file)) {
        char *end = NULL;
        const double value = strtod(line, &end);
        if (end != line)
            values[count++] = value;
    }
    fclose(file);
    return count;
}

/* Data: Hastie, Tibshirani and Friedman, The Elements of Statistical Learning, table 8.1. The optimum of the
 * likelihood with one common variance was found apart from this code, by a simplex search (scipy 1.10) from
 * the same data; 1e-4 is EM's own stopping distance here. */
START_TEST(twenty_published_values)
{
    double values[32], weights[32];
    const size_t count = read_values(values, 32);
    ck_assert_uint_eq(count, 20);
    for (size_t i = 0; i < count; i++)
        weights[i] = 1;
    const tdm_mixture start = {.mean = {0, 6}, .sd = 1, .share = 0.5};
    tdm_mixture found;
    ck_assert(tdm_mixture_fit(values, weights, count, 1e-3, &start, &found));
    ck_assert_double_eq_tol(found.mean[1], 4.657222, 1e-4);
    ck_assert_double_eq_tol(found.mean[0], 1.084281, 1e-4);
    ck_assert_double_eq_tol(found.sd * found.sd, 0.814813, 1e-4);
    ck_assert_double_eq_tol(found.share, 0.445073, 1e-4);
    ck_assert_double_eq_tol(found.log_likelihood, -38.913422, 1e-5);
    /* The book's printed fit (two variances, 0.87 and 0.77), from memory: close to this one. */
    ck_assert_double_eq_tol(found.mean[1], 4.62, 0.05);
    ck_assert_double_eq_tol(found.mean[0], 1.06, 0.05);
}
END_TEST

START_TEST(weights_count_like_repeats)
{
    const double once[] = {1, 1, 1.2, 5, 5.1, 5.3, 5.3, 5.3}, ones[] = {1, 1, 1, 1, 1, 1, 1, 1};
    const double folded[] = {1, 1.2, 5, 5.1, 5.3}, times[] = {2, 1, 1, 1, 3};
    const tdm_mixture start = {.mean = {1, 5}, .sd = 1, .share = 0.5};
    tdm_mixture a, b;
    ck_assert(tdm_mixture_fit(once, ones, 8, 0.05, &start, &a));
    ck_assert(tdm_mixture_fit(folded, times, 5, 0.05, &start, &b));
    ck_assert_double_eq_tol(a.mean[0], b.mean[0], 1e-9);
    ck_assert_double_eq_tol(a.share, b.share, 1e-9);
    ck_assert_double_eq_tol(a.share, 5.0 / 8, 1e-6); /* clean split: five of eight */
}
END_TEST

START_TEST(one_part_against_the_formula)
{
    const double values[] = {2, 4}, weights[] = {1, 1}; /* mean 3, sd 1 */
    const tdm_weighted of = {values, weights, 2, 0.1};
    tdm_normals one;
    ck_assert(tdm_normals_fit(&of, 1, &one));
    ck_assert_double_eq_tol(one.log_likelihood, 2 * (-0.5 - 0.918938533), 1e-8);
}
END_TEST

START_TEST(separation_by_hand)
{
    const tdm_mixture mixture = {.mean = {0, 4}, .sd = 1, .share = 0.5};
    ck_assert_double_eq_tol(tdm_mixture_separation(&mixture), 4, 1e-12); /* sqrt(2) 4 / sqrt(2) */
}
END_TEST

/* Two clear groups of four are two; one value, and two when the margin asks for more, aren't. */
START_TEST(two_parts_are_chosen_where_there_are_two)
{
    const double values[] = {1, 1.1, 1.2, 1.3, 9, 9.1, 9.2, 9.3}, ones[] = {1, 1, 1, 1, 1, 1, 1, 1};
    const double same[] = {3, 3, 3};
    const tdm_weighted two = {values, ones, 8, 0.1}, one = {same, ones, 3, 0.1};
    tdm_normals_limits limits = {.effective = 8, .margin = 10, .separation = 2, .share = 0.02};
    tdm_mixture found;
    ck_assert(tdm_mixture_choose(&two, &limits, &found));
    ck_assert_double_eq_tol(found.mean[0], 1.15, 1e-6);
    ck_assert_double_eq_tol(found.mean[1], 9.15, 1e-6);
    ck_assert(!tdm_mixture_choose(&one, &limits, &found));
    limits.margin = 1000;
    ck_assert(!tdm_mixture_choose(&two, &limits, &found));
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {twenty_published_values,
                                  weights_count_like_repeats,
                                  one_part_against_the_formula,
                                  separation_by_hand,
                                  two_parts_are_chosen_where_there_are_two,
                                  NULL};
    return run_suite("mixture", tests);
}
