/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: an angle taken wrong, a step hidden in texture called visible, a soft fall called hard. */
#include <math.h>

#include "measure/synthetic.h"
#include "suite.h"

typedef struct view {
    double step, width, texture; /* L*, mm, L* sd of columns 10 mm wide */
} view;

static void colour(double s, double t, const void *about, double lab[3])
{
    const view *truth = about;
    const double part = 0.5 * (1 + erf((s - 80) / (truth->width / 2.5631031310892007) / sqrt(2)));
    lab[0] = 40 + truth->step * part + truth->texture * synthetic_noise((unsigned)(t / 10.5), 3);
    lab[1] = lab[2] = 0;
}

static void look(const view *truth, synthetic_zone *zone)
{
    tdm_error error = {0};
    synthetic_zone_make(synthetic_strip(200, 105, colour, truth), zone);
    ck_assert_int_eq(tdm_measure_visibility.compute(&zone->input, &zone->reading, &zone->warnings, &error),
                     TDM_OK);
}

/* A sharp step of 9.2 L* on smooth hair is 9.2 / 2.3 = 4 just-noticeable differences, at any distance. */
START_TEST(a_sharp_step_counts_in_noticeable_differences)
{
    const view sharp = {.step = 9.2, .width = 0.5};
    synthetic_zone zone;
    look(&sharp, &zone);
    for (int i = 0; i < TDM_DISTANCES; i++)
        ck_assert_double_eq_tol(zone.reading.demarcation.visibility[i].dprime, 4, 0.15);
    ck_assert_str_eq(zone.reading.demarcation.grade, "hard");
    synthetic_zone_free(&zone);
}
END_TEST

/* Half a degree at 1.2 m is 10.47 mm. Across a rise of 10-90 % width w the means of two neighbouring
 * stretches of length h differ, for w >> h, by step * h * density(0) = 9.2 * 10.47 * 0.39894 / (60 / 2.5631)
 * = 1.64 L*. */
START_TEST(a_soft_fall_fades)
{
    const view soft = {.step = 9.2, .width = 60};
    synthetic_zone zone;
    look(&soft, &zone);
    ck_assert_double_eq_tol(zone.reading.demarcation.visibility[1].dprime, 1.64 / 2.3, 0.06);
    ck_assert_str_eq(zone.reading.demarcation.grade, "none");
    /* from nearer, one degree holds less of it; from further, more */
    ck_assert_double_lt(zone.reading.demarcation.visibility[0].dprime,
                        zone.reading.demarcation.visibility[1].dprime);
    ck_assert_double_gt(zone.reading.demarcation.visibility[2].dprime,
                        zone.reading.demarcation.visibility[1].dprime);
    synthetic_zone_free(&zone);
}
END_TEST

START_TEST(texture_hides_a_step)
{
    const view smooth = {.step = 9.2, .width = 0.5}, rough = {.step = 9.2, .width = 0.5, .texture = 7};
    synthetic_zone a, b;
    look(&smooth, &a);
    look(&rough, &b);
    ck_assert_double_lt(b.reading.demarcation.visibility[1].dprime,
                        0.6 * a.reading.demarcation.visibility[1].dprime);
    synthetic_zone_free(&a);
    synthetic_zone_free(&b);
}
END_TEST

START_TEST(no_scale_no_angle)
{
    const view sharp = {.step = 9.2, .width = 0.5};
    synthetic_zone zone;
    tdm_error error = {0};
    synthetic_zone_make(synthetic_strip(200, 105, colour, &sharp), &zone);
    zone.strip.scaled = false;
    ck_assert_int_eq(tdm_measure_visibility.compute(&zone.input, &zone.reading, &zone.warnings, &error),
                     TDM_OK);
    ck_assert(isnan(zone.reading.demarcation.visibility[1].dprime));
    ck_assert_ptr_null(zone.reading.demarcation.grade);
    synthetic_zone_free(&zone);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {a_sharp_step_counts_in_noticeable_differences, a_soft_fall_fades,
                                  texture_hides_a_step, no_scale_no_angle, NULL};
    return run_suite("visibility", tests);
}
