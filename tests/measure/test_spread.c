/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a wrong quantile rule, a wrong MAD factor, an uncertainty that isn't two standard deviations
 * of a normal. */
#include <math.h>

#include "measure/spread.h"
#include "measure/synthetic.h"
#include "suite.h"

START_TEST(quantiles_by_hand)
{
    double values[] = {7, 1, 3, 5};
    ck_assert_double_eq_tol(tdm_quantile(values, 4, 0.5), 4, 1e-12);
    ck_assert_double_eq_tol(tdm_quantile(values, 4, 0), 1, 1e-12);
    ck_assert_double_eq_tol(tdm_quantile(values, 4, 0.25), 2.5,
                            1e-12); /* a quarter of the way along three gaps */
    ck_assert(isnan(tdm_quantile(values, 0, 0.5)));
}
END_TEST

START_TEST(robust_sd_by_hand)
{
    double values[] = {1, 2, 3, 4, 100}; /* median 3, deviations 2 1 0 1 97, their median 1 */
    ck_assert_double_eq_tol(tdm_robust_sd(values, 5), 1.482602, 1e-6); /* factor: 1 / z(0.75) */
}
END_TEST

START_TEST(half_range_is_two_standard_deviations_of_a_normal)
{
    double values[4000];
    for (unsigned i = 0; i < 4000; i++)
        values[i] = 10 + 3 * synthetic_noise(i, 1);
    /* z(0.975) = 1.95996; 4 % is three standard errors of the quantiles of 4000 */
    ck_assert_double_eq_tol(tdm_half_range(values, 4000), 3 * 1.95996, 0.04 * 3 * 1.95996);
    ck_assert(isnan(tdm_half_range(values, 19)));
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {quantiles_by_hand, robust_sd_by_hand,
                                  half_range_is_two_standard_deviations_of_a_normal, NULL};
    return run_suite("spread", tests);
}
