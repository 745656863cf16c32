/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: greys beside a target: the light they show, and the check of the one against the other. A
 * perfect camera, the light 1 at the target's middle, stands for the target. */
#include <math.h>
#include <string.h>

#include "colour/drawn_greys.h"
#include "colour/flat_field.h"
#include "colour/greys.h"
#include "suite.h"

static bool light_of_greys(greys *drawn, size_t count, const double at[2], tdm_light *light)
{
    const tdm_calibration exact = tdm_calibration_none(drawn->device);
    bool used = true;
    ck_assert_int_eq(tdm_greys_light(drawn->device, &drawn->pixels, &exact, drawn->marks, count, GREYS_WIDTH,
                                     GREYS_HEIGHT, at, "f", &drawn->warnings, light, &used, NULL),
                     TDM_OK);
    return used;
}

static void check_greys(greys *drawn, const tdm_calibration *by)
{
    ck_assert_int_eq(
        tdm_greys_check(drawn->device, &drawn->pixels, by, drawn->marks, 2, "f", &drawn->warnings, NULL),
        TDM_OK);
}

START_TEST(greys_beside_a_target)
{
    const card two[2] = {{80, 100, 50, 50}, {520, 100, 50, 50}};
    const double along[2] = {0.4, 0}, at[2] = {150, 200};
    camera by = plain_camera();
    tdm_light light = {0};
    greys drawn;
    for (int c = 0; c < 3; c++)
        by.gain[c] = pow(2, -stops_at(along, at[0], at[1]));
    greys_draw(&drawn, two, 2, along, &by);
    tdm_calibration lit = tdm_calibration_none(drawn.device);
    ck_assert(light_of_greys(&drawn, 2, at, &light) && light.degree == 1);
    double factors[3];
    tdm_light_at(&light, 450, 200, factors); /* 0.02 stops: the priors' pull */
    ck_assert_double_eq_tol(-log2(factors[1]), 0.4, 0.02);
    tdm_light_at(&light, at[0], at[1], factors);
    ck_assert_double_eq_tol(factors[0], 1, 1e-12);
    ck_assert(!light_of_greys(&drawn, 1, at, &light)); /* one grey: a card's tilt as well as light */
    check_greys(&drawn, &lit);
    ck_assert_uint_eq(drawn.warnings.count, 1);
    ck_assert_str_eq(drawn.warnings.items[0].code, "grey-disagrees");
    ck_assert_ptr_nonnull(strstr(drawn.warnings.items[0].text, "grey[1]"));
    lit.light = light;
    check_greys(&drawn, &lit);
    ck_assert_uint_eq(drawn.warnings.count, 1); /* nothing new */
    greys_free(&drawn);
}
END_TEST

/* Even light with half a unit of L* between cards: nothing to take out, nothing to warn of; a coloured card
 * is one. */
START_TEST(even_light_beside_a_target)
{
    const card two[2] = {{80, 100, 50, 50.4}, {520, 100, 50, 49.6}};
    const double at[2] = {300, 200};
    const camera by = plain_camera();
    tdm_light light;
    greys drawn;
    greys_draw(&drawn, two, 2, even, &by);
    const tdm_calibration exact = tdm_calibration_none(drawn.device);
    ck_assert(!light_of_greys(&drawn, 2, at, &light));
    check_greys(&drawn, &exact);
    ck_assert_uint_eq(drawn.warnings.count, 0);
    drawn.by.gain[2] = 0.85;
    draw_card(&drawn, &two[0]);
    check_greys(&drawn, &exact);
    ck_assert(tdm_warnings_have(&drawn.warnings, "grey-disagrees"));
    ck_assert_ptr_nonnull(strstr(drawn.warnings.items[0].text, "1 of 2"));
    greys_free(&drawn);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {greys_beside_a_target, even_light_beside_a_target, NULL};
    return run_suite("greys beside a target", tests);
}
