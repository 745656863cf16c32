/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: an axis that follows shade, that points to the dark part, or that comes out of nothing. */
#include <math.h>

#include "measure/strand_axis.h"
#include "measure/synthetic.h"
#include "suite.h"

enum { PLACES = 6000 };
static const double base[3] = {38, 7, 19}, lights[3] = {10, -1.2, 3};
static const double shade_sd = 0.12, noise_sd = 0.4, light_share = 0.35;

/* Shade takes L* + 16, a* and b* down together: a strong spread along one line, the same for both parts. */
static void draw(double *lab)
{
    for (unsigned i = 0; i < PLACES; i++) {
        const double light = (double)(i % 100) < 100 * light_share ? 1 : 0;
        const double shade = shade_sd * synthetic_noise(i, 1);
        for (unsigned k = 0; k < 3; k++)
            lab[3 * i + k] = base[k] + light * lights[k] + shade * (base[k] + (k == 0 ? 16 : 0)) +
                             noise_sd * synthetic_noise(i, 2 + k);
    }
}

/* Fisher's discriminant for a covariance noise² I + shade² d dᵀ, inverted by hand (Sherman and Morrison
 * 1950). */
START_TEST(the_discriminant_of_two_drawn_parts)
{
    static double lab[3 * PLACES];
    double axis[3], expected[3], square = 0, along = 0, length = 0;
    bool found = false;
    tdm_error error = {0};
    const double d[3] = {base[0] + 16, base[1], base[2]};
    for (int k = 0; k < 3; k++) {
        square += d[k] * d[k];
        along += d[k] * lights[k];
    }
    const double share = shade_sd * shade_sd / (noise_sd * noise_sd + shade_sd * shade_sd * square);
    for (int k = 0; k < 3; k++) {
        expected[k] = lights[k] - share * along * d[k];
        length += expected[k] * expected[k];
    }
    draw(lab);
    ck_assert_int_eq(tdm_strand_axis(lab, PLACES, axis, &found, &error), TDM_OK);
    ck_assert(found);
    double cosine = 0;
    for (int k = 0; k < 3; k++)
        cosine += axis[k] * expected[k] / sqrt(length);
    ck_assert_double_gt(cosine, 0.995); /* under 6 degrees: what 6000 places with 35 % of lights leave open */
    double rise = 0;
    for (int k = 0; k < 3; k++)
        rise += axis[k] * lights[k];
    ck_assert_double_gt(rise, 0); /* to the light part */
}
END_TEST

START_TEST(colours_that_do_not_vary_have_no_axis)
{
    double lab[3 * 50], axis[3] = {1, 0, 0};
    bool found = true;
    tdm_error error = {0};
    for (int i = 0; i < 50; i++) {
        for (int k = 0; k < 3; k++)
            lab[3 * i + k] = base[k];
    }
    ck_assert_int_eq(tdm_strand_axis(lab, 50, axis, &found, &error), TDM_OK);
    ck_assert(!found);
    ck_assert(axis[0] == 1 && axis[1] == 0 && axis[2] == 0);
    found = true;
    ck_assert_int_eq(tdm_strand_axis(lab, 0, axis, &found, &error), TDM_OK);
    ck_assert(!found);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {the_discriminant_of_two_drawn_parts, colours_that_do_not_vary_have_no_axis,
                                  NULL};
    return run_suite("strand_axis", tests);
}
