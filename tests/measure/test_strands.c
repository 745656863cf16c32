/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: share, contrast, ribbon widths and their order, regular against random spacing, a split of
 * uniform hair. */
#include <math.h>
#include <string.h>

#include "colour/lab.h"
#include "measure/synthetic.h"
#include "suite.h"

enum { COLUMNS = 400 };

typedef struct weave {
    bool light[COLUMNS]; /* of each quarter millimetre */
    double start;        /* light from here on */
    double dark_l, light_l;
} weave;

static void weave_colour(double s, double t, const void *about, double lab[3])
{
    const weave *truth = about;
    const unsigned col = (unsigned)(t * 4);
    const bool light = truth->light[col] && s >= truth->start;
    lab[0] = (light ? truth->light_l : truth->dark_l) + 1.5 * synthetic_noise(col, (unsigned)(s / 8)) +
             synthetic_noise(col, (unsigned)(s * 4) + 1000);
    lab[1] = light ? 6 : 4;
    lab[2] = light ? 20 : 8;
}

/* Ribbons of `width` quarters; gaps so that the share comes out, regular or jittered. */
static void lay(weave *out, unsigned width, double share, bool regular)
{
    const double pitch = width / share;
    memset(out->light, 0, sizeof out->light);
    double at = 2;
    for (unsigned i = 0; at + width < COLUMNS; i++) {
        const double gap =
            regular ? pitch - width : fmax(3, (pitch - width) * (1 + 0.8 * synthetic_noise(i, 77)));
        for (unsigned k = 0; k < width; k++)
            out->light[(unsigned)at + k] = true;
        at += width + gap;
    }
}

static double true_share(const weave *truth)
{
    double count = 0;
    for (unsigned i = 0; i < COLUMNS; i++)
        count += truth->light[i];
    return count / COLUMNS;
}

static void measure(const weave *truth, synthetic_zone *zone)
{
    tdm_error error = {0};
    synthetic_zone_make(synthetic_strip(200, 100, weave_colour, truth), zone);
    ck_assert_int_eq(tdm_measure_strands.compute(&zone->input, &zone->reading, &zone->warnings, &error),
                     TDM_OK);
}

START_TEST(share_and_contrast)
{
    static const double shares[] = {0.1, 0.3, 0.5}, contrasts[] = {8, 15, 30};
    for (int i = 0; i < 3; i++) {
        for (int j = 0; j < 3; j++) {
            weave truth = {.dark_l = 26, .light_l = 26 + contrasts[j]};
            synthetic_zone zone;
            lay(&truth, 12, shares[i], false);
            measure(&truth, &zone);
            ck_assert(zone.reading.strands.separable);
            ck_assert_double_eq_tol(zone.reading.strands.light_share.value, true_share(&truth), 0.03);
            ck_assert_double_eq_tol(zone.reading.strands.contrast_lstar.value, contrasts[j],
                                    fmax(0.05 * contrasts[j], 0.5));
            synthetic_zone_free(&zone);
        }
    }
}
END_TEST

/* Common practice, no source: a weave is called very fine below about 1 mm and chunky from about 6 mm. */
START_TEST(weaves_come_out_in_order_of_width)
{
    static const unsigned quarters[] = {3, 8, 16, 36};
    double before = 0;
    for (int i = 0; i < 4; i++) {
        weave truth = {.dark_l = 26, .light_l = 44};
        synthetic_zone zone;
        lay(&truth, quarters[i], 0.4, false);
        measure(&truth, &zone);
        ck_assert_double_eq_tol(zone.reading.strands.ribbon_median, 0.25 * quarters[i], 0.25);
        ck_assert_double_gt(zone.reading.strands.ribbon_median, before);
        before = zone.reading.strands.ribbon_median;
        synthetic_zone_free(&zone);
    }
}
END_TEST

START_TEST(a_stripe_is_regular_and_a_random_fall_is_not)
{
    weave stripe = {.dark_l = 26, .light_l = 44}, random = {.dark_l = 26, .light_l = 44};
    synthetic_zone zone;
    lay(&stripe, 10, 0.35, true);
    measure(&stripe, &zone);
    ck_assert_double_lt(zone.reading.strands.spacing_cv, 0.12);
    ck_assert_double_eq_tol(zone.reading.strands.spacing_median, 2.5 / 0.35, 0.3);
    synthetic_zone_free(&zone);
    lay(&random, 10, 0.35, false);
    measure(&random, &zone);
    ck_assert_double_gt(zone.reading.strands.spacing_cv, 0.3);
    synthetic_zone_free(&zone);
}
END_TEST

START_TEST(ribbons_start_where_they_turn_light)
{
    weave truth = {.dark_l = 26, .light_l = 46, .start = 40};
    synthetic_zone zone;
    lay(&truth, 14, 0.4, false);
    measure(&truth, &zone);
    ck_assert_double_eq_tol(zone.reading.strands.start_median, 40, 2); /* looked at in steps of 2 mm */
    ck_assert_double_eq_tol(zone.reading.strands.light_share.value, true_share(&truth), 0.03);
    synthetic_zone_free(&zone);
}
END_TEST

START_TEST(uniform_hair_is_not_separable)
{
    weave truth = {.dark_l = 30, .light_l = 30};
    synthetic_zone zone;
    measure(&truth, &zone);
    ck_assert(!zone.reading.strands.separable);
    ck_assert(isnan(zone.reading.strands.light_share.value));
    ck_assert(isnan(zone.reading.strands.light_lab[0]));
    synthetic_zone_free(&zone);
}
END_TEST

/* Stripes of shade: XYZ times 0.55 in a third of the columns, which is a contrast of 9 L* and no second
 * colour. */
static void shaded(double s, double t, const void *about, double lab[3])
{
    const weave *truth = about;
    double xyz[3];
    const unsigned col = (unsigned)(t * 4);
    lab[0] = 40 + 1.5 * synthetic_noise(col, (unsigned)(s / 8));
    lab[1] = 7;
    lab[2] = 18;
    tdm_lab_to_xyz(lab, xyz);
    for (int k = 0; k < 3; k++)
        xyz[k] *= truth->light[col] ? 0.55 : 1;
    tdm_xyz_to_lab(xyz, lab);
}

START_TEST(shade_is_not_a_strand)
{
    weave truth = {.dark_l = 0, .light_l = 0};
    synthetic_zone zone;
    tdm_error error = {0};
    lay(&truth, 14, 0.3, false);
    synthetic_zone_make(synthetic_strip(200, 100, shaded, &truth), &zone);
    ck_assert_int_eq(tdm_measure_strands.compute(&zone.input, &zone.reading, &zone.warnings, &error), TDM_OK);
    ck_assert(!zone.reading.strands.separable);
    ck_assert(isnan(zone.reading.strands.contrast_lstar.value));
    synthetic_zone_free(&zone);
}
END_TEST

START_TEST(too_fine_for_the_picture_is_said)
{
    weave truth = {.dark_l = 26, .light_l = 44};
    synthetic_zone zone;
    tdm_error error = {0};
    lay(&truth, 3, 0.4, false);
    synthetic_zone_make(synthetic_strip(200, 100, weave_colour, &truth), &zone);
    zone.strip.cell_px = 0.5; /* 2 px a millimetre: 0.75 mm is 1.5 px */
    ck_assert_int_eq(tdm_measure_strands.compute(&zone.input, &zone.reading, &zone.warnings, &error), TDM_OK);
    ck_assert(isnan(zone.reading.strands.ribbon_median));
    ck_assert(tdm_warnings_have(&zone.warnings, "ribbons-too-fine"));
    synthetic_zone_free(&zone);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {share_and_contrast,
                                  weaves_come_out_in_order_of_width,
                                  a_stripe_is_regular_and_a_random_fall_is_not,
                                  ribbons_start_where_they_turn_light,
                                  uniform_hair_is_not_separable,
                                  shade_is_not_a_strand,
                                  too_fine_for_the_picture_is_said,
                                  NULL};
    return run_suite("strands", tests);
}
