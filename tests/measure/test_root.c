/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a place that isn't said from the root line where the zone begins below it, a length that is
 * changed by that, a root area that passes for the root. */
#include <math.h>

#include "measure/synthetic.h"
#include "suite.h"

/* Dark, from 60 mm below the path's start with light ribbons 3 mm wide, 8 mm apart. */
static void colour(double s, double t, const void *about, double lab[3])
{
    (void)about;
    const double part = 0.5 * (1 + erf((s - 60) / 3));
    const bool ribbon = fmod(t, 8) < 3;
    lab[0] = 25 + part * (ribbon ? 30 : 12) + 0.8 * synthetic_noise((unsigned)(t * 4), (unsigned)(s * 4));
    lab[1] = 4;
    lab[2] = 8 + (ribbon ? 16 : 2) * part;
}

static void measure(double root_mm, synthetic_zone *zone)
{
    const tdm_measure *const measures[] = {&tdm_measure_gradient, &tdm_measure_root, &tdm_measure_strands};
    tdm_error error = {0};
    synthetic_zone_make(synthetic_strip(160, 60, colour, NULL), zone);
    zone->strip.root = root_mm;
    for (int i = 0; i < 3; i++)
        ck_assert_int_eq(measures[i]->compute(&zone->input, &zone->reading, &zone->warnings, &error), TDM_OK);
}

START_TEST(places_count_from_the_root_line)
{
    synthetic_zone zone, below;
    measure(0, &zone);
    measure(25, &below);
    const struct tdm_zone_reading *at = &zone.reading, *from = &below.reading;
    ck_assert_double_eq_tol(from->gradient.centre_mm.value, 85, 1); /* drawn at 60 + 25 */
    ck_assert_double_eq_tol(from->strands.start_median, 85, 2);     /* looked at in steps of 2 mm */
    ck_assert_uint_eq(at->gradient.profile.count, from->gradient.profile.count);
    for (size_t i = 0; i < at->gradient.profile.count; i++)
        ck_assert_double_eq_tol(from->gradient.profile.points[i].along,
                                at->gradient.profile.points[i].along + 25, 1e-9);
    ck_assert_double_eq_tol(from->strands.start_p25, at->strands.start_p25 + 25, 1e-9);
    ck_assert_double_eq_tol(from->strands.start_p75, at->strands.start_p75 + 25, 1e-9);
    synthetic_zone_free(&zone);
    synthetic_zone_free(&below);
}
END_TEST

START_TEST(lengths_and_shares_stay)
{
    synthetic_zone zone, below;
    measure(0, &zone);
    measure(25, &below);
    const struct tdm_zone_reading *at = &zone.reading, *from = &below.reading;
    ck_assert_double_eq(from->gradient.width_mm.value, at->gradient.width_mm.value);
    ck_assert_double_eq(from->gradient.centre_share.value, at->gradient.centre_share.value);
    ck_assert_double_eq(from->gradient.centre_mm.u, at->gradient.centre_mm.u);
    ck_assert_double_eq(from->strands.ribbon_median, at->strands.ribbon_median);
    synthetic_zone_free(&zone);
    synthetic_zone_free(&below);
}
END_TEST

START_TEST(a_zone_below_the_root_says_so)
{
    synthetic_zone zone, below;
    measure(0, &zone);
    measure(25, &below);
    ck_assert_double_eq(zone.reading.root_mm, 0);
    ck_assert_double_eq(below.reading.root_mm, 25);
    ck_assert(!tdm_warnings_have(&zone.warnings, "zone-below-root"));
    ck_assert(tdm_warnings_have(&below.warnings, "zone-below-root"));
    ck_assert_uint_eq(below.warnings.count, zone.warnings.count + 1);
    synthetic_zone_free(&zone);
    synthetic_zone_free(&below);
}
END_TEST

START_TEST(without_a_scale_there_is_no_offset)
{
    synthetic_zone zone;
    tdm_error error = {0};
    synthetic_zone_make(synthetic_strip(160, 60, colour, NULL), &zone);
    zone.strip.scaled = false;
    ck_assert_int_eq(tdm_measure_gradient.compute(&zone.input, &zone.reading, &zone.warnings, &error),
                     TDM_OK);
    const double along = zone.reading.gradient.profile.points[10].along;
    ck_assert_int_eq(tdm_measure_root.compute(&zone.input, &zone.reading, &zone.warnings, &error), TDM_OK);
    ck_assert(isnan(zone.reading.root_mm));
    ck_assert_double_eq(zone.reading.gradient.profile.points[10].along, along);
    synthetic_zone_free(&zone);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {places_count_from_the_root_line, lengths_and_shares_stay,
                                  a_zone_below_the_root_says_so, without_a_scale_there_is_no_offset, NULL};
    return run_suite("root", tests);
}
