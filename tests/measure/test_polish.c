/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: rows or columns that stay in what is left, a missing value that spreads, an outlier that moves
 * its row. */
#include <math.h>

#include "measure/polish.h"
#include "suite.h"

/* Rows 0, 10, 20 and columns 0, 1, 5, 7: additive, so that nothing is left but what stands out. */
static void lay(double table[12])
{
    static const double columns[4] = {0, 1, 5, 7};
    for (int i = 0; i < 12; i++)
        table[i] = 10 * (i / 4) + columns[i % 4];
}

START_TEST(an_outlier_is_all_that_is_left)
{
    double table[12], scratch[4];
    lay(table);
    table[6] += 3;
    tdm_polish(table, NULL, 3, 4, scratch);
    for (int i = 0; i < 12; i++)
        ck_assert_double_eq_tol(table[i], i == 6 ? 3 : 0, 1e-12);
}
END_TEST

START_TEST(a_missing_value_stays_missing)
{
    double table[12], scratch[4];
    lay(table);
    table[5] = NAN;
    tdm_polish(table, NULL, 3, 4, scratch);
    for (int i = 0; i < 12; i++)
        ck_assert(i == 5 ? isnan(table[i]) : fabs(table[i]) < 1e-12);
}
END_TEST

/* Three of a row's four stand out: only without them is the row what the rest of it says. */
START_TEST(what_is_left_out_moves_nothing)
{
    double table[12], scratch[4];
    const uint8_t without[12] = {[4] = 1, [5] = 1, [6] = 1};
    lay(table);
    for (int i = 4; i < 7; i++)
        table[i] += 3;
    tdm_polish(table, without, 3, 4, scratch);
    for (int i = 0; i < 12; i++)
        ck_assert_double_eq_tol(table[i], without[i] ? 3 : 0, 1e-12);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {an_outlier_is_all_that_is_left, a_missing_value_stays_missing,
                                  what_is_left_out_moves_nothing, NULL};
    return run_suite("polish", tests);
}
