/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a curve that dips between its knots, or misses them. */
#include <math.h>

#include "colour/monotone.h"
#include "suite.h"

/* The data of Fritsch and Carlson's RPN 14 example (from memory: any steep then flat set will do). */
static const double x[] = {7.99, 8.09, 8.19, 8.7, 9.2, 10, 12, 15, 20};
static const double y[] = {0,        2.76429e-5, 4.37498e-2, 0.169183, 0.469428,
                           0.943740, 0.998636,   0.999919,   0.999994};
enum { COUNT = 9 };

START_TEST(passes_the_knots_and_never_falls)
{
    double slope[COUNT], last = 0;
    tdm_monotone_slopes(x, y, COUNT, slope);
    for (int i = 0; i < COUNT; i++)
        ck_assert_double_eq_tol(tdm_monotone_at(x, y, slope, COUNT, x[i]), y[i], 1e-12);
    for (double at = x[0]; at <= x[COUNT - 1]; at += 0.001) {
        const double now = tdm_monotone_at(x, y, slope, COUNT, at);
        ck_assert(now >= last - 1e-12);
        last = now;
    }
}
END_TEST

/* A parabola that rises gently needs no limiting and is met exactly. */
START_TEST(meets_a_parabola)
{
    const double at[] = {0, 0.4, 1, 1.3, 2};
    double value[5], slope[5];
    for (int i = 0; i < 5; i++)
        value[i] = at[i] + 0.3 * at[i] * at[i];
    tdm_monotone_slopes(at, value, 5, slope);
    for (double t = 0; t <= 2; t += 0.05)
        ck_assert_double_eq_tol(tdm_monotone_at(at, value, slope, 5, t), t + 0.3 * t * t, 1e-12);
}
END_TEST

START_TEST(two_knots_are_a_line)
{
    const double at[] = {1, 3}, value[] = {2, 8};
    double slope[2];
    tdm_monotone_slopes(at, value, 2, slope);
    ck_assert_double_eq_tol(tdm_monotone_at(at, value, slope, 2, 1.5), 3.5, 1e-12);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {passes_the_knots_and_never_falls, meets_a_parabola, two_knots_are_a_line,
                                  NULL};
    return run_suite("monotone", tests);
}
