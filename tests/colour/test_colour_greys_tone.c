/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: tone from a step wedge. All pictures are drawn: lightness, light and camera are known. */
#include <math.h>
#include <string.h>

#include "colour/drawn_greys.h"
#include "suite.h"

/* Cameras of every contrast: six steps leave hair within 0.2 L* (0.06 reached), where one card leaves
 * several; and nobody is warned of a card that is right. */
START_TEST(a_wedge_corrects_tone)
{
    for (int which = 0; which < 4; which++) {
        camera by = plain_camera();
        by.power = which == 0 ? 0.85 : (which == 1 ? 1.2 : 1);
        by.contrast = which >= 2 ? 0.3 * (which - 1) : 0;
        by.gain[0] = 0.85;
        by.gain[2] = 0.7;
        greys six, one;
        greys_fit(&six, wedge, 6, even, &by);
        greys_fit(&one, wedge + 2, 1, even, &by);
        ck_assert_uint_eq(six.warnings.count, 0);
        ck_assert_uint_eq(one.warnings.count, 0);
        const double miss = worst_lstar(&six), single = worst_lstar(&one);
        ck_assert_int_eq(six.fitted.knots, 7);
        ck_assert_double_lt(miss, 0.2);
        ck_assert_double_gt(single, 3);
        ck_assert_double_lt(six.fitted.u_lstar, one.fitted.u_lstar);
        ck_assert_double_gt(2 * six.fitted.u_lstar, miss);
        greys_free(&six);
        greys_free(&one);
    }
}
END_TEST

/* Three steps are the least, and steps that are nearly the same count as one. */
START_TEST(when_there_is_a_curve)
{
    const card three[3] = {wedge[0], wedge[2], wedge[5]};
    const card close[3] = {wedge[2], {210, 60, 53, 53}, wedge[5]};
    card fine[12];
    camera by = plain_camera();
    by.power = 1.1;
    greys drawn;
    greys_fit(&drawn, three, 3, even, &by);
    ck_assert_int_eq(drawn.fitted.knots, 4);
    greys_free(&drawn);
    greys_fit(&drawn, close, 3, even, &by);
    ck_assert_int_eq(drawn.fitted.knots, 0);
    greys_free(&drawn);
    for (int i = 0; i < 12; i++) {
        const double lstar = 18 + 6.5 * i;
        fine[i] = (card){40 + 45 * i, 60, lstar, lstar};
    }
    greys_fit(&drawn, fine, 12, even, &by);
    ck_assert_int_eq(drawn.fitted.knots, TDM_CURVE_KNOTS); /* merged into what the curve has room for */
    ck_assert_double_lt(worst_lstar(&drawn), 1);
    greys_free(&drawn);
}
END_TEST

/* A step with a wrong lstar, inside and at either end, is named, or its neighbour at the end. */
START_TEST(a_wrong_step_is_named)
{
    static const struct {
        int which;
        double said;
        const char *names;
    } cases[3] = {{2, 57, "L* 57"}, {0, 29, "L* 29"}, {4, 89, "L* 95"}};
    const camera by = plain_camera();
    for (int i = 0; i < 3; i++) {
        card cards[6];
        greys drawn;
        memcpy(cards, wedge, sizeof cards);
        cards[cases[i].which].said = cases[i].said;
        greys_fit(&drawn, cards, 6, even, &by);
        ck_assert(tdm_warnings_have(&drawn.warnings, "grey-disagrees"));
        ck_assert_msg(strstr(drawn.warnings.items[0].text, cases[i].names), "%s",
                      drawn.warnings.items[0].text);
        ck_assert(isfinite(drawn.fitted.u_lstar));
        greys_free(&drawn);
    }
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {a_wedge_corrects_tone, when_there_is_a_curve, a_wrong_step_is_named, NULL};
    return run_suite("greys' tone", tests);
}
