/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: shadow or gloss taken for a line, pigment's change of colour taken for light. */
#include <math.h>

#include "colour/lab.h"
#include "measure/lightness_cause.h"
#include "suite.h"

/* CIELAB of a mass of hair that holds eumelanin alone, from light to dark, about a level apart: a model
 * computed apart from this project's code (absorption as d'Eon et al. 2011, inversion of Chiang et al. 2016),
 * under D65, which hardly matters here. */
static const double melanin[][3] = {{66.38, 2.14, 16.53}, {56.02, 3.34, 18.98}, {49.22, 4.18, 19.58},
                                    {44.20, 4.77, 19.37}, {37.08, 5.46, 17.84}, {32.22, 5.73, 15.74},
                                    {28.71, 5.72, 13.57}, {25.01, 5.39, 10.62}, {20.36, 4.09, 5.79}};
enum { COLOURS = sizeof melanin / sizeof melanin[0] };

/* Under other light, and with gloss on it. */
static void lit(const double lab[3], double light, double gloss, double out[3])
{
    double xyz[3];
    tdm_lab_to_xyz(lab, xyz);
    for (int k = 0; k < 3; k++)
        xyz[k] = light * xyz[k] + gloss * tdm_white_d50[k];
    tdm_xyz_to_lab(xyz, out);
}

START_TEST(less_melanin_is_a_change_of_colour)
{
    for (int i = 0; i + 1 < COLOURS; i++)
        ck_assert_msg(tdm_is_colour_change(melanin[i + 1], melanin[i], 0.01), "%d", i);
    ck_assert(tdm_is_colour_change(melanin[COLOURS - 1], melanin[0], 0.01));
}
END_TEST

START_TEST(shadow_is_not)
{
    for (int i = 0; i < COLOURS; i++) {
        double dark[3];
        lit(melanin[i], 0.6, 0, dark);
        ck_assert_msg(!tdm_is_colour_change(dark, melanin[i], 0.01), "%d", i);
    }
}
END_TEST

/* Up to what may lie there; more of it is a change that gloss can't explain. */
START_TEST(gloss_is_not_as_far_as_it_may_be_there)
{
    for (int i = 0; i < COLOURS; i++) {
        double shiny[3];
        lit(melanin[i], 1.05, 0.015, shiny);
        ck_assert_msg(!tdm_is_colour_change(melanin[i], shiny, 0.02), "%d", i);
    }
    double grey[3];
    lit(melanin[COLOURS - 2], 1, 0.15, grey);
    ck_assert(tdm_is_colour_change(melanin[COLOURS - 2], grey, 0.02));
}
END_TEST

/* Grey hair has no tint to go by: only a change that no fold makes counts. */
START_TEST(grey_hair_goes_by_contrast)
{
    const double dark[3] = {30, 0.5, 1}, near[3] = {36, 0.5, 1}, far[3] = {60, 0.3, 2};
    ck_assert(!tdm_is_colour_change(dark, near, 0.01));
    ck_assert(tdm_is_colour_change(dark, far, 0.01));
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {less_melanin_is_a_change_of_colour, shadow_is_not,
                                  gloss_is_not_as_far_as_it_may_be_there, grey_hair_goes_by_contrast, NULL};
    return run_suite("lightness_cause", tests);
}
