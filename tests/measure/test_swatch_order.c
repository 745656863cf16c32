/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: more swatches blamed than need be, the wrong one of two blamed, equal swatches taken for
 * rising. */
#include "measure/swatch_order.h"
#include "suite.h"

typedef struct order_case {
    size_t count;
    double levels[8], lstars[8];
    bool rising[8];
} order_case;

/* By hand. */
static const order_case cases[] = {
    {1, {4}, {25}, {true}},
    {2, {4, 5}, {25, 30}, {true, true}},
    /* one swatch far too dark: the five others stay */
    {6, {3, 4, 5, 6, 7, 8}, {22, 26, 30, 17, 41, 48}, {true, true, true, false, true, true}},
    /* one far too light */
    {5, {3, 4, 5, 6, 7}, {22, 45, 30, 35, 41}, {true, false, true, true, true}},
    /* either of two could go; level 5 lies off the trend of all */
    {6, {3, 4, 5, 6, 7, 8}, {21.9, 25.7, 25.2, 35.2, 41.1, 48.2}, {true, true, false, true, true, true}},
    /* and here level 4 does */
    {6, {3, 4, 5, 6, 7, 8}, {21.9, 30.6, 30.0, 35.2, 41.1, 48.2}, {true, false, true, true, true, true}},
};

START_TEST(blames_the_fewest)
{
    for (size_t k = 0; k < sizeof cases / sizeof cases[0]; k++) {
        const order_case *it = &cases[k];
        bool rising[8] = {false};
        size_t falling = 0;
        for (size_t i = 0; i < it->count; i++)
            falling += !it->rising[i];
        const size_t found = tdm_swatch_order(it->levels, it->lstars, it->count, rising);
        ck_assert_msg(found == falling, "case %zu: %zu", k, found);
        for (size_t i = 0; i < it->count; i++)
            ck_assert_msg(rising[i] == it->rising[i], "case %zu, swatch %zu", k, i);
    }
}
END_TEST

/* Which of the two goes is a toss-up. */
START_TEST(the_same_lightness_twice)
{
    const double levels[] = {3, 4, 6}, lstars[] = {22, 22, 35};
    bool rising[3];
    ck_assert_uint_eq(tdm_swatch_order(levels, lstars, 3, rising), 1);
    ck_assert(rising[0] != rising[1] && rising[2]);
}
END_TEST

/* A scale turned round: one may stay. */
START_TEST(all_the_wrong_way)
{
    const double levels[] = {1, 2, 3, 4}, lstars[] = {50, 40, 30, 20};
    bool rising[4];
    ck_assert_uint_eq(tdm_swatch_order(levels, lstars, 4, rising), 3);
    ck_assert_uint_eq((size_t)rising[0] + rising[1] + rising[2] + rising[3], 1);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {blames_the_fewest, the_same_lightness_twice, all_the_wrong_way, NULL};
    return run_suite("swatch order", tests);
}
