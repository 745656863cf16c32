/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: an area over the wrong rows, a level off its scale, an uncertainty that ignores the
 * calibration. */
#include <math.h>

#include "measure/synthetic.h"
#include "suite.h"

/* Level 4 for the first 20 mm, level 6 in the middle, level 8 for the last 20 mm, straight from the default
 * table. */
static void three_parts(double s, double t, const void *about, double lab[3])
{
    (void)t, (void)about;
    /* a* and b* as melanin makes them: a change of lightness alone might be gloss */
    static const double parts[3][3] = {{25.66, 5.4, 11.2}, {35.16, 5.6, 17.2}, {48.17, 4.3, 19.5}};
    for (int k = 0; k < 3; k++)
        lab[k] = parts[s < 20 ? 0 : s < 180 ? 1 : 2][k];
}

START_TEST(each_part_has_its_own_level)
{
    synthetic_zone zone;
    synthetic_zone_make(synthetic_strip(200, 30, three_parts, NULL), &zone);
    tdm_error error = {0};
    ck_assert_int_eq(tdm_measure_areas.compute(&zone.input, &zone.reading, &zone.warnings, &error), TDM_OK);
    /* The table prints L* to 0.01, which is 0.003 level at its darkest; a bin on a border costs less than
     * 0.01. */
    ck_assert_double_eq_tol(zone.reading.root.level.value, 4, 0.02);
    ck_assert_double_eq_tol(zone.reading.mid.level.value, 6, 0.02);
    ck_assert_double_eq_tol(zone.reading.ends.level.value, 8, 0.02);
    /* All columns alike, no calibration error; gloss of 0.0008, which nobody could tell, is 0.24 L* of the
     * root (ISO/CIE 11664-4: 116/3 Y^(-2/3) times it, Y 0.0464). */
    const tdm_budget parts = tdm_budget_of(&zone.reading, &zone.reading.root.lstar);
    for (int k = 0; k < TDM_PARTS; k++)
        ck_assert_double_eq_tol(parts.part[k], k == TDM_PART_GLOSS ? 0.26 : 0,
                                k == TDM_PART_GLOSS ? 0.05 : 1e-6);
    ck_assert_ptr_nonnull(zone.reading.root.tone);
    synthetic_zone_free(&zone);
}
END_TEST

START_TEST(calibration_uncertainty_reaches_the_level)
{
    synthetic_zone zone;
    synthetic_zone_make(synthetic_strip(200, 30, three_parts, NULL), &zone);
    tdm_error error = {0};
    zone.sources.lstar = 1;
    ck_assert_int_eq(tdm_measure_areas.compute(&zone.input, &zone.reading, &zone.warnings, &error), TDM_OK);
    const tdm_budget lstar = tdm_budget_of(&zone.reading, &zone.reading.root.lstar);
    const tdm_budget level = tdm_budget_of(&zone.reading, &zone.reading.root.level);
    ck_assert_double_eq_tol(lstar.part[TDM_PART_CALIBRATION], 1, 1e-6);
    /* dn/dL* = 9 / (L* ln(66/16)) from the default scale's formula */
    ck_assert_double_eq_tol(level.part[TDM_PART_CALIBRATION], 9 / (25.66 * log(66.0 / 16)), 5e-3);
    /* k = 2 */
    ck_assert_double_eq_tol(zone.reading.root.lstar.u, 2 * hypot(1, lstar.part[TDM_PART_GLOSS]), 1e-6);
    synthetic_zone_free(&zone);
}
END_TEST

/* Columns of independent lightness, sd 4 about 40: the mean's standard deviation is 4 / sqrt(columns of 2
 * mm). */
static void uneven(double s, double t, const void *about, double lab[3])
{
    (void)s, (void)about;
    lab[0] = 40 + 4 * synthetic_noise((unsigned)(t / 2), 9);
    lab[1] = lab[2] = 0;
}

START_TEST(sampling_uncertainty_is_that_of_the_mean)
{
    synthetic_zone zone;
    synthetic_zone_make(synthetic_strip(200, 200, uneven, NULL), &zone);
    tdm_error error = {0};
    ck_assert_int_eq(tdm_measure_areas.compute(&zone.input, &zone.reading, &zone.warnings, &error), TDM_OK);
    const double expected =
        0.98 * 4 / sqrt(100); /* half of 1.96: a standard uncertainty from the quantiles */
    const tdm_budget parts = tdm_budget_of(&zone.reading, &zone.reading.overall.lstar);
    /* The sample's own sd (7 % at 100) and 100 resamples' quantiles (about 15 %) allow a quarter either way.
     */
    ck_assert_double_eq_tol(parts.part[TDM_PART_SAMPLING], expected, 0.25 * expected);
    synthetic_zone_free(&zone);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {each_part_has_its_own_level, calibration_uncertainty_reaches_the_level,
                                  sampling_uncertainty_is_that_of_the_mean, NULL};
    return run_suite("areas", tests);
}
