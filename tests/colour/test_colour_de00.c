/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: any term of CIEDE2000, above all the hue's wrap and mean. */
#include <math.h>

#include "colour/drawn.h"
#include "colour/lab.h"
#include "suite.h"

enum { PAIRS = 34, COLUMNS = 9 };

static size_t pairs(double cells[PAIRS + 1][COLUMNS])
{
    return read_table("ciede2000_sharma2005.csv", &cells[0][0], COLUMNS, PAIRS + 1);
}

/* Sharma, Wu and Dalal 2005, the whole table. 1e-4: the values are printed to four decimals, so 5e-5 is their
 * rounding. Pair 14 sits on a hue difference of exactly half a turn: 4.8045 and 4.7461 are both accepted, as
 * the table's notes say. */
START_TEST(all_published_pairs)
{
    double cells[PAIRS + 1][COLUMNS];
    ck_assert_uint_eq(pairs(cells), PAIRS);
    for (int i = 0; i < PAIRS; i++) {
        const double got = tdm_de00(cells[i] + 1, cells[i] + 4);
        if (i == 13)
            ck_assert(fabs(got - 4.8045) < 1e-4 || fabs(got - 4.7461) < 1e-4);
        else
            ck_assert_double_eq_tol(got, cells[i][7], 1e-4);
    }
}
END_TEST

/* A difference has no direction; 1e-12 is rounding. Pair 14 excepted as above. */
START_TEST(the_same_both_ways)
{
    double cells[PAIRS + 1][COLUMNS];
    ck_assert_uint_eq(pairs(cells), PAIRS);
    for (int i = 0; i < PAIRS; i++) {
        if (i != 13)
            ck_assert_double_eq_tol(tdm_de00(cells[i] + 1, cells[i] + 4),
                                    tdm_de00(cells[i] + 4, cells[i] + 1), 1e-12);
        ck_assert_double_eq(tdm_de00(cells[i] + 1, cells[i] + 1), 0);
    }
}
END_TEST

/* Neutral against neutral leaves lightness alone: L* 50 to 60, mean 55, S_L = 1 + 0.015 25 / sqrt(45). */
START_TEST(greys_by_hand)
{
    const double dark[3] = {50, 0, 0}, light[3] = {60, 0, 0};
    double parts[3];
    tdm_de00_parts(dark, light, parts);
    ck_assert_double_eq_tol(parts[0], 10 / (1 + 0.015 * 25 / sqrt(45)), 1e-12);
    ck_assert_double_eq(parts[1], 0);
    ck_assert_double_eq(parts[2], 0);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {all_published_pairs, the_same_both_ways, greys_by_hand, NULL};
    return run_suite("de00", tests);
}
