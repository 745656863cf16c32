/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a shadow or a band of shine called a line, a hot root missed, the extrapolated part of a width
 * vouched for, a clean fall called unsure. */
#include <math.h>

#include "colour/lab.h"
#include "measure/measure.h"
#include "measure/shape_linear.h"
#include "measure/synthetic.h"
#include "suite.h"

static const double brown[3] = {38, 6.5, 18}, dark[3] = {26.5, 6.7, 12}, fair[3] = {44, 6.6, 20.8},
                    copper[3] = {38, 14, 26};

/* Hair of one colour, two or three, one after the other, and light on it. */
typedef struct hair {
    const double *colours[3];
    double at[2], width; /* mm: 50 % points, and the 10-90 % rise of both; at 0: no such change */
    double shade_from, shade_to, shade; /* share of the light that is taken */
    double shine_at, shine_wide, shine; /* a normal bump of white light */
} hair;

static void colour(double s, double t, const void *about, double lab[3])
{
    const hair *on = about;
    double xyz[3], way[2] = {0, 0};
    for (int i = 0; i < 2 && on->at[i] > 0; i++)
        way[i] = tdm_rise(s, on->at[i], on->width / TDM_RISE_PER_SIGMA);
    for (int k = 0; k < 3; k++) {
        lab[k] = on->colours[0][k];
        for (int i = 0; i < 2 && on->at[i] > 0; i++)
            lab[k] += way[i] * (on->colours[i + 1][k] - on->colours[i][k]);
    }
    const double dim = tdm_rise(s, on->shade_from, 3) - tdm_rise(s, on->shade_to, 3);
    const double z = on->shine > 0 ? (s - on->shine_at) / on->shine_wide : 0;
    tdm_lab_to_xyz(lab, xyz);
    for (int k = 0; k < 3; k++)
        xyz[k] = xyz[k] * (1 - on->shade * dim) * (1 + 0.1 * synthetic_noise(7, (unsigned)(t * 2))) +
                 on->shine * exp(-0.5 * z * z) * tdm_white_d50[k];
    tdm_xyz_to_lab(xyz, lab);
    lab[0] += 0.3 * synthetic_noise((unsigned)(t * 4), (unsigned)(s * 4));
}

static void measure(const hair *on, synthetic_zone *zone)
{
    tdm_error error = {0};
    synthetic_zone_make(synthetic_strip(200, 40, colour, on), zone);
    ck_assert_int_eq(tdm_measure_gradient.compute(&zone->input, &zone->reading, &zone->warnings, &error),
                     TDM_OK);
}

START_TEST(a_clean_fall_is_sure)
{
    const hair on = {.colours = {dark, fair}, .at = {60}, .width = 12};
    synthetic_zone zone;
    measure(&on, &zone);
    ck_assert_str_eq(zone.reading.gradient.confidence, "good");
    ck_assert_ptr_null(zone.reading.gradient.bound);
    ck_assert(isnan(zone.reading.gradient.light_lstar));
    ck_assert_double_lt(zone.reading.gloss_share, 0.03);
    ck_assert_uint_eq(zone.warnings.count, 0);
    synthetic_zone_free(&zone);
}
END_TEST

/* From 90 mm to 210 mm, of which the zone ends at 200: 110 mm are seen. */
START_TEST(a_fall_that_runs_off_is_a_bound)
{
    const hair on = {.colours = {dark, fair}, .at = {150}, .width = 120};
    synthetic_zone zone;
    measure(&on, &zone);
    ck_assert_str_eq(zone.reading.gradient.shape, "transition");
    ck_assert_str_eq(zone.reading.gradient.bound, "at least");
    ck_assert_double_eq_tol(zone.reading.gradient.width_mm.value, 110, 12);
    ck_assert_double_le(zone.reading.gradient.width_mm.value, 120);
    ck_assert(isnan(zone.reading.gradient.width_mm.u));
    ck_assert(tdm_warnings_have(&zone.warnings, "fall-runs-off"));
    ck_assert_str_ne(zone.reading.gradient.confidence, "good");
    synthetic_zone_free(&zone);
}
END_TEST

/* 35 % less light is 54 (1 - 0.65^(1/3)) = 7.2 L* of L* 38 (ISO/CIE 11664-4). */
START_TEST(a_shadow_is_light)
{
    const hair on = {.colours = {brown}, .shade = 0.35, .shade_from = 60, .shade_to = 110};
    synthetic_zone zone;
    measure(&on, &zone);
    ck_assert_str_eq(zone.reading.gradient.shape, "uniform");
    ck_assert(isnan(zone.reading.gradient.width_mm.value));
    ck_assert_double_eq_tol(zone.reading.gradient.light_lstar, 7.2, 1.5);
    ck_assert(tdm_warnings_have(&zone.warnings, "light-not-colour"));
    ck_assert_str_eq(zone.reading.gradient.confidence, "fair");
    synthetic_zone_free(&zone);
}
END_TEST

/* From a little to more than the hair's own light. */
START_TEST(a_band_of_shine_is_light)
{
    static const double shines[] = {0.01, 0.04, 0.12};
    const hair on = {.colours = {brown}, .shine = shines[_i], .shine_at = 90, .shine_wide = 15};
    synthetic_zone zone;
    measure(&on, &zone);
    ck_assert_str_eq(zone.reading.gradient.shape, "uniform");
    synthetic_zone_free(&zone);
}
END_TEST

/* Copper as deep as the lengths beyond it: nothing of its far side shows in lightness. */
START_TEST(a_hot_root_is_a_band)
{
    const hair on = {.colours = {dark, copper, brown}, .at = {15, 50}, .width = 8};
    synthetic_zone zone;
    measure(&on, &zone);
    ck_assert_str_eq(zone.reading.gradient.shape, "band");
    ck_assert_double_eq_tol(zone.reading.gradient.centre_mm.value, 15, 1);
    synthetic_zone_free(&zone);
}
END_TEST

/* A bleached band differs in more than light. */
START_TEST(a_light_band_of_other_hair_is_colour)
{
    static const double bleached[3] = {66, 2, 17};
    const hair on = {.colours = {brown, bleached, brown}, .at = {60, 100}, .width = 8};
    synthetic_zone zone;
    measure(&on, &zone);
    ck_assert_str_eq(zone.reading.gradient.shape, "band");
    synthetic_zone_free(&zone);
}
END_TEST

int main(void)
{
    TCase *tests = patient_case("gradient_trust");
    tcase_add_test(tests, a_clean_fall_is_sure);
    tcase_add_test(tests, a_fall_that_runs_off_is_a_bound);
    tcase_add_test(tests, a_shadow_is_light);
    tcase_add_loop_test(tests, a_band_of_shine_is_light, 0, 3);
    tcase_add_test(tests, a_hot_root_is_a_band);
    tcase_add_test(tests, a_light_band_of_other_hair_is_colour);
    return run_case("gradient_trust", tests);
}
