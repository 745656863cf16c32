/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: lengths in the wrong unit, a fall of tone at one depth missed, null figures where there is a
 * scale. */
#include <math.h>
#include <string.h>

#include "colour/lab.h"
#include "measure/synthetic.h"
#include "suite.h"

typedef struct fall_truth {
    double root[3], ends[3];
    double centre, width;
    double noise;
} fall_truth;

static void fall_colour(double s, double t, const void *about, double lab[3])
{
    const fall_truth *truth = about;
    const double part = 0.5 * (1 + erf((s - truth->centre) / (truth->width / 2.5631031310892007) / sqrt(2)));
    for (int k = 0; k < 3; k++)
        lab[k] = truth->root[k] + part * (truth->ends[k] - truth->root[k]);
    lab[0] += truth->noise * synthetic_noise((unsigned)(t * 4), (unsigned)s);
}

/* Centres are held to about a fortieth of the width and widths to a sixteenth: three standard errors of a fit
 * to 400 bins at this noise. */
static void measure(const fall_truth *truth, bool scaled, synthetic_zone *zone)
{
    tdm_error error = {0};
    synthetic_zone_make(synthetic_strip(200, 40, fall_colour, truth), zone);
    zone->strip.scaled = scaled;
    ck_assert_int_eq(tdm_measure_areas.compute(&zone->input, &zone->reading, &zone->warnings, &error),
                     TDM_OK);
    ck_assert_int_eq(tdm_measure_gradient.compute(&zone->input, &zone->reading, &zone->warnings, &error),
                     TDM_OK);
}

START_TEST(a_fall_of_depth)
{
    const fall_truth truth = {{25, 4, 6}, {45, 6, 16}, 34, 12, 1};
    synthetic_zone zone;
    measure(&truth, true, &zone);
    ck_assert_str_eq(zone.reading.gradient.shape, "transition");
    ck_assert_double_eq_tol(zone.reading.gradient.centre_mm.value, 34, 0.3);
    ck_assert_double_eq_tol(zone.reading.gradient.width_mm.value, 12, 0.6);
    ck_assert_double_eq_tol(zone.reading.gradient.centre_share.value, 0.17, 0.002);
    ck_assert(zone.reading.gradient.centre_mm.u > 0 && zone.reading.gradient.centre_mm.u < 1);
    /* Sides taken outside the 10 % and 90 % points still hold a little of the change: up to 0.7 CIEDE2000
     * here. */
    ck_assert_double_eq_tol(zone.reading.gradient.de00.value, tdm_de00(truth.root, truth.ends), 0.7);
    /* 80 % of 20 L* over 1.2 cm */
    ck_assert_double_eq_tol(zone.reading.gradient.slope_lstar_per_cm.value, 0.8 * 20 / 1.2, 0.8);
    ck_assert_uint_ge(zone.reading.gradient.profile.count, 90);
    ck_assert_double_eq_tol(zone.reading.gradient.profile.points[0].lab[0], 25, 1);
    synthetic_zone_free(&zone);
}
END_TEST

START_TEST(a_fall_of_tone_at_one_depth)
{
    const fall_truth truth = {{40, 2, 4}, {40, 16, 24}, 60, 25, 0.5};
    synthetic_zone zone;
    measure(&truth, true, &zone);
    ck_assert_str_eq(zone.reading.gradient.shape, "transition");
    ck_assert_double_eq_tol(zone.reading.gradient.centre_mm.value, 60, 1);
    ck_assert_double_eq_tol(zone.reading.gradient.width_mm.value, 25, 1.5);
    ck_assert_double_eq_tol(zone.reading.gradient.slope_lstar_per_cm.value, 0, 0.2);
    synthetic_zone_free(&zone);
}
END_TEST

START_TEST(without_a_scale_only_shares)
{
    const fall_truth truth = {{25, 4, 6}, {45, 6, 16}, 50, 20, 1};
    synthetic_zone zone;
    measure(&truth, false, &zone);
    ck_assert(isnan(zone.reading.gradient.centre_mm.value) && isnan(zone.reading.gradient.width_mm.value));
    ck_assert(isnan(zone.reading.gradient.slope_lstar_per_cm.value));
    ck_assert_double_eq_tol(zone.reading.gradient.centre_share.value, 0.25, 0.005);
    ck_assert_double_eq_tol(zone.reading.gradient.width_share.value, 0.1, 0.01);
    ck_assert_double_lt(zone.reading.gradient.profile.points[zone.reading.gradient.profile.count - 1].along,
                        1);
    synthetic_zone_free(&zone);
}
END_TEST

static void plain(double s, double t, const void *about, double lab[3])
{
    (void)about;
    lab[0] = 30 + synthetic_noise((unsigned)(4 * t), (unsigned)(4 * s));
    lab[1] = 3;
    lab[2] = 6;
}

START_TEST(uniform_hair_has_no_centre)
{
    synthetic_zone zone;
    tdm_error error = {0};
    synthetic_zone_make(synthetic_strip(200, 40, plain, NULL), &zone);
    ck_assert_int_eq(tdm_measure_gradient.compute(&zone.input, &zone.reading, &zone.warnings, &error),
                     TDM_OK);
    ck_assert_str_eq(zone.reading.gradient.shape, "uniform");
    ck_assert(isnan(zone.reading.gradient.centre_mm.value) && isnan(zone.reading.gradient.de00.value));
    ck_assert_double_eq_tol(zone.reading.gradient.slope_lstar_per_cm.value, 0, 0.05);
    synthetic_zone_free(&zone);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {a_fall_of_depth, a_fall_of_tone_at_one_depth, without_a_scale_only_shares,
                                  uniform_hair_has_no_centre, NULL};
    return run_suite("gradient", tests);
}
