/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: EM steps, the likelihood, the start. */
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
    tdm_mixture start, found;
    ck_assert(tdm_mixture_start(values, weights, count, 1e-3, &start));
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
    tdm_mixture start, a, b;
    ck_assert(tdm_mixture_start(once, ones, 8, 0.05, &start));
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
    ck_assert_double_eq_tol(tdm_single_log_likelihood(values, weights, 2, 0.1), 2 * (-0.5 - 0.918938533),
                            1e-8);
}
END_TEST

START_TEST(separation_by_hand)
{
    const tdm_mixture mixture = {.mean = {0, 4}, .sd = 1, .share = 0.5};
    ck_assert_double_eq_tol(tdm_mixture_separation(&mixture), 4, 1e-12); /* sqrt(2) 4 / sqrt(2) */
    ck_assert_double_eq_tol(tdm_mixture_posterior(&mixture, 2), 0.5, 1e-12);
}
END_TEST

START_TEST(a_single_value_has_no_two_parts)
{
    const double values[] = {3, 3, 3}, weights[] = {1, 1, 1};
    tdm_mixture start;
    ck_assert(!tdm_mixture_start(values, weights, 3, 0.1, &start));
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {twenty_published_values,         weights_count_like_repeats,
                                  one_part_against_the_formula,    separation_by_hand,
                                  a_single_value_has_no_two_parts, NULL};
    return run_suite("mixture", tests);
}
