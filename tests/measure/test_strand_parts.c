/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: shade taken for pigment, pure colours that aren't those that were mixed, a third kind that is
 * overlooked or made of two, strands that run aslant or wave smeared, areas that have the whole's figures. */
#include <math.h>

#include "colour/lab.h"
#include "measure/strand_tint.h"
#include "measure/strand_unmix.h"
#include "measure/synthetic.h"
#include "suite.h"

/* By hand: two equal points have skewness 0 and kurtosis 1; a normal distribution 3; an even one 9/5. */
START_TEST(bimodality_of_known_distributions)
{
    ck_assert_double_eq_tol(tdm_bimodality(1, 0, 1), 1, 1e-12);
    ck_assert_double_eq_tol(tdm_bimodality(4, 0, 3 * 16), 1.0 / 3, 1e-12);
    ck_assert_double_eq_tol(tdm_bimodality(1.0 / 12, 0, 1.0 / 80), 5.0 / 9, 1e-12);
    ck_assert_double_eq(tdm_bimodality(0, 0, 0), 0);
}
END_TEST

/* Light times 0.5 is shade; more pigment takes other a* and b*. */
START_TEST(shade_from_pigment)
{
    const double light[3] = {50, 8, 22}, pigment[3] = {36, 7.5, 13};
    double xyz[3], shaded[3];
    tdm_lab_to_xyz(light, xyz);
    for (int k = 0; k < 3; k++)
        xyz[k] *= 0.5;
    tdm_xyz_to_lab(xyz, shaded);
    ck_assert(tdm_is_shade(light, shaded));
    ck_assert(!tdm_is_shade(light, pigment));
    ck_assert(tdm_is_shade((double[]){50, 1, 2}, (double[]){42, 1, 2}));
    ck_assert(!tdm_is_shade((double[]){50, 1, 2}, (double[]){38, 1, 2}));
}
END_TEST

/* Mixtures of two colours in linear light give the two back to rounding; all alike, nothing. */
START_TEST(pure_colours_of_mixtures)
{
    const double light[3] = {60, 5, 24}, dark[3] = {30, 7, 15};
    double bright[3], dim[3], found[2][3];
    tdm_unmix sums = {0}, alike = {0};
    tdm_lab_to_xyz(light, bright);
    tdm_lab_to_xyz(dark, dim);
    for (int i = 0; i <= 10; i++) {
        double xyz[3];
        const double f = 0.1 * i;
        for (int k = 0; k < 3; k++)
            xyz[k] = 3 * (f * bright[k] + (1 - f) * dim[k]);
        tdm_unmix_add(&sums, f, 3, xyz);
        tdm_unmix_add(&alike, 0.4, 3, xyz);
    }
    ck_assert(tdm_unmix_solve(&sums, found[0], found[1]));
    for (int k = 0; k < 3; k++) {
        ck_assert_double_eq_tol(found[0][k], light[k], 1e-6);
        ck_assert_double_eq_tol(found[1][k], dark[k], 1e-6);
    }
    ck_assert(!tdm_unmix_solve(&alike, found[0], found[1]));
}
END_TEST

typedef struct stripes {
    double slope, wave; /* across per along; mm */
    double start;       /* light from here on, mm */
    double old_share;   /* of 16 mm, a middle kind */
    double light_l, old_l;
} stripes;

/* Base, 16 mm apart 4 mm of light hair, and on request a middle kind beside it. */
static void stripe_colour(double s, double t, const void *about, double lab[3])
{
    const stripes *of = about;
    const double aside = of->slope * s + of->wave * sin(2 * 3.14159265358979 * s / 60);
    const double place = fmod(t - aside + 4096, 16) / 16;
    const bool light = place < 0.25 && s >= of->start,
               old = !light && place >= 0.5 && place < 0.5 + of->old_share;
    const unsigned strand = (unsigned)(4 * (t - aside + 4096));
    lab[0] = (light ? of->light_l
              : old ? of->old_l
                    : 30) +
             1.2 * synthetic_noise(strand, 5) + synthetic_noise((unsigned)(4 * t), (unsigned)(4 * s) + 900);
    lab[1] = light ? 5.5 : old ? 7.5 : 7;
    lab[2] = light ? 22 : old ? 20.5 : 13;
}

static void measure(const stripes *of, synthetic_zone *zone)
{
    tdm_error error = {0};
    synthetic_zone_make(synthetic_strip(160, 64, stripe_colour, of), zone);
    ck_assert_int_eq(tdm_measure_strands.compute(&zone->input, &zone->reading, &zone->warnings, &error),
                     TDM_OK);
    ck_assert(zone->reading.strands.separable);
}

/* 0.03 of the share, 5 % of the contrast, 0.4 mm: strips of four stripes in cells of 0.25 mm. */
START_TEST(strands_aslant_and_in_waves)
{
    static const stripes all[] = {
        {.light_l = 45}, {.light_l = 45, .slope = 0.577}, {.light_l = 45, .wave = 6}};
    for (size_t i = 0; i < sizeof all / sizeof all[0]; i++) {
        synthetic_zone zone;
        measure(&all[i], &zone);
        const double slant = cos(atan(all[i].slope));
        ck_assert_double_eq_tol(zone.reading.strands.light_share.value, 0.25, 0.03);
        ck_assert_double_eq_tol(zone.reading.strands.contrast_lstar.value, 15, 0.75);
        ck_assert_double_eq(zone.reading.strands.kinds, 2);
        if (all[i].wave == 0)
            ck_assert_double_eq_tol(zone.reading.strands.ribbon_median, 4 * slant, 0.4);
        synthetic_zone_free(&zone);
    }
}
END_TEST

START_TEST(old_and_new_lights_and_base)
{
    const stripes of = {.light_l = 57, .old_l = 41, .old_share = 0.25};
    synthetic_zone zone;
    measure(&of, &zone);
    ck_assert_double_eq(zone.reading.strands.kinds, 3);
    ck_assert_double_eq_tol(zone.reading.strands.light_share.value, 0.5, 0.05);
    ck_assert_double_eq_tol(zone.reading.strands.middle_share.value, 0.25, 0.05);
    ck_assert_double_eq_tol(zone.reading.strands.middle_lab[0], 41, 1.5);
    ck_assert_double_eq_tol(zone.reading.strands.dark_lab[0], 30, 1.5);
    ck_assert_double_eq_tol(zone.reading.strands.light_lab[0], 57, 1.5);
    synthetic_zone_free(&zone);
}
END_TEST

/* No light hair at the root, a quarter at mid-lengths and ends. */
START_TEST(areas_have_their_own_strands)
{
    const stripes of = {.light_l = 45, .start = 40};
    synthetic_zone zone;
    measure(&of, &zone);
    ck_assert(!zone.reading.strands.root.separable);
    ck_assert(isnan(zone.reading.strands.root.light_share.value));
    ck_assert(zone.reading.strands.mid.separable && zone.reading.strands.ends.separable);
    ck_assert_double_eq_tol(zone.reading.strands.mid.light_share.value, 0.25, 0.03);
    ck_assert_double_eq_tol(zone.reading.strands.ends.light_share.value, 0.25, 0.03);
    ck_assert_double_eq_tol(zone.reading.strands.mid.contrast_lstar.value, 15, 0.75);
    ck_assert_double_eq_tol(zone.reading.strands.mid.ribbon_mm, 4, 0.4);
    ck_assert_double_eq_tol(zone.reading.strands.mid.spacing_mm, 16, 0.5);
    synthetic_zone_free(&zone);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {bimodality_of_known_distributions,
                                  shade_from_pigment,
                                  pure_colours_of_mixtures,
                                  strands_aslant_and_in_waves,
                                  old_and_new_lights_and_base,
                                  areas_have_their_own_strands,
                                  NULL};
    return run_suite("strand_parts", tests);
}
