/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: white hair counted wrongly, or seen where light strands, shine or shade make hair light. */
#include <math.h>
#include <string.h>

#include "colour/lab.h"
#include "measure/grey_light.h"
#include "measure/grey_mix.h"
#include "measure/synthetic.h"
#include "suite.h"

static const double white_lab[3] = {70, 0, 14};

static double uniform(unsigned i, unsigned j)
{
    return 0.5 * erfc(-synthetic_noise(i, j) / sqrt(2));
}

/* Share of white in a place that so many hairs cross, each white by chance and covering more or less of it.
 */
static double by_chance(double share, unsigned hairs, unsigned i)
{
    double white = 0, all = 0;
    for (unsigned k = 0; k < hairs; k++) {
        const double covered = uniform(i, 100 + k);
        white += uniform(i, k) < share ? covered : 0;
        all += covered;
    }
    return white / all;
}

/* Breaks if the mix isn't found from the light of places alone. Each is crossed by five hairs; shade 14 %.
   0.02 on black hair, 0.05 at level 7: what hairs cover is only nearly distributed as the mix takes it to be,
   and tells the less the nearer natural hair's light comes to white's. */
START_TEST(the_mix_is_found)
{
    enum { PLACES = 1500 };
    static const double shares[] = {0, 0.05, 0.15, 0.3, 0.6}, naturals[] = {0.025, 0.05, 0.12},
                        most[] = {0.02, 0.03, 0.05};
    double light[PLACES], white[3];
    tdm_lab_to_xyz(white_lab, white);
    for (size_t n = 0; n < 3; n++) {
        for (size_t s = 0; s < 5; s++) {
            double truth = 0;
            for (unsigned i = 0; i < PLACES; i++) {
                const double f = by_chance(shares[s], 5, i);
                truth += f / PLACES;
                light[i] =
                    ((1 - f) * naturals[n] + f * white[1]) * exp(0.14 * synthetic_noise(i, 99) - 0.0098);
            }
            tdm_grey_mix mix;
            tdm_error error = {0};
            ck_assert_int_eq(tdm_grey_mix_fit(light, PLACES, white[1], NULL, &mix, &error), TDM_OK);
            ck_assert_msg(fabs(mix.share - truth) < most[n], "%g found as %g", truth, mix.share);
        }
    }
    tdm_grey_mix mix;
    tdm_error error = {0};
    ck_assert_int_eq(tdm_grey_mix_fit(light, 20, white[1], NULL, &mix, &error), TDM_ERR_UNUSABLE);
}
END_TEST

/* Breaks if what makes hair light isn't told by its colour. Lights of level 9, shine of the diffuser's own
   white; half and half lies half way on the line of equal luminance, whatever the hair. */
START_TEST(colour_tells_what_is_light)
{
    static const double natural_lab[3] = {30, 6, 14}, light_lab[3] = {58, 5, 22};
    tdm_grey_ends ends;
    double pure[3][3];
    tdm_lab_to_xyz(natural_lab, ends.natural);
    tdm_lab_to_xyz(white_lab, ends.white);
    tdm_lab_to_xyz(light_lab, ends.light);
    for (size_t k = 0; k < 3; k++) {
        pure[0][k] = ends.natural[k] + 0.1 * (ends.white[k] - ends.natural[k]);
        pure[1][k] = ends.natural[k] + 0.3 * (ends.light[k] - ends.natural[k]);
        pure[2][k] = ends.natural[k] + 0.05 * tdm_white_d50[k];
    }
    ck_assert_double_eq_tol(tdm_grey_parts_of(&ends, pure[0]).white, 1, 1e-9);
    ck_assert_double_eq_tol(tdm_grey_parts_of(&ends, pure[1]).white, 0, 1e-9);
    ck_assert_double_eq_tol(tdm_grey_parts_of(&ends, pure[1]).pigment, 1, 1e-6);
    ck_assert_double_eq_tol(tdm_grey_parts_of(&ends, pure[2]).white, 0, 1e-9);
    ck_assert_double_eq_tol(tdm_grey_parts_of(&ends, pure[2]).gloss, 1, 1e-6);
    /* As much light from each: half is white, but for the tenth that is forgiven and the last twentieth. */
    double mixed[3], lab[3];
    for (size_t k = 0; k < 3; k++)
        mixed[k] = ends.natural[k] + (pure[0][k] - ends.natural[k]) / (pure[0][1] - ends.natural[1]) * 0.02 +
                   (pure[1][k] - ends.natural[k]) / (pure[1][1] - ends.natural[1]) * 0.02;
    ck_assert_double_eq_tol(tdm_grey_parts_of(&ends, mixed).white, 1 - 0.4 / 0.85, 1e-6);
    tdm_grey_colour(&ends, pure[0], lab);
    for (size_t k = 0; k < 3; k++)
        ck_assert_double_eq_tol(lab[k], white_lab[k], 1e-6);
}
END_TEST

typedef struct hair {
    double white, lights; /* shares; lights in ribbons of 3 mm, from the root on */
    double shine;         /* in a band of 8 mm at 15 mm, linear light */
} hair;

/* Level 4 to the line at 35 mm, level 7 below it, where dye has taken white hair. Strands of four hairs, a
   cell wide, slant by 1 in 10. */
static void head(double s, double t, const void *about, double lab[3])
{
    const hair *on = about;
    static const double root[3] = {26, 6.4, 11.8}, ends[3] = {41, 7, 20}, light[3] = {58, 5, 22};
    const double share = 1 / (1 + exp(-(s - 35) / 1));
    const unsigned strand = (unsigned)lround(4 * (t + 0.1 * s)), ribbon = strand / 12;
    const double f = (1 - share) * by_chance(on->white, 4, strand);
    const double band = on->shine * exp(-0.5 * pow((s - 15) / 3.4, 2) + 0.6 * synthetic_noise(5, strand));
    const double shade = exp(0.13 * synthetic_noise(7, strand));
    double own[3], white[3];
    for (size_t k = 0; k < 3; k++)
        own[k] = uniform(11, ribbon) < on->lights ? light[k] : root[k] + share * (ends[k] - root[k]);
    tdm_lab_to_xyz(own, own);
    tdm_lab_to_xyz(white_lab, white);
    for (unsigned k = 0; k < 3; k++)
        own[k] = shade * ((1 - f) * own[k] + f * white[k]) *
                     (1 + 0.01 * synthetic_noise((unsigned)lround(4 * s) + 1000 * k, strand)) +
                 band * tdm_white_d50[k];
    tdm_xyz_to_lab(own, lab);
}

/* What of the hair above the line is white. */
static double truth_of(const hair *on)
{
    double sum = 0, count = 0;
    for (double s = 1.125; s < 30; s += 0.25) {
        for (double t = 0.125; t < 40; t += 0.25, count++)
            sum += by_chance(on->white, 4, (unsigned)lround(4 * (t + 0.1 * s)));
    }
    return sum / count;
}

static void measured(const hair *on, synthetic_zone *zone)
{
    tdm_error error = {0};
    synthetic_zone_make(synthetic_strip(100, 40, head, on), zone);
    ck_assert_int_eq(tdm_measure_strands.compute(&zone->input, &zone->reading, &zone->warnings, &error),
                     TDM_OK);
    ck_assert_int_eq(tdm_measure_grey.compute(&zone->input, &zone->reading, &zone->warnings, &error), TDM_OK);
}

/* Breaks if the share of white hair above the line is off by more than 0.05, or more than its uncertainty. */
START_TEST(grey_hair_is_counted)
{
    static const double shares[] = {0.08, 0.2, 0.4, 0.6};
    for (size_t i = 0; i < 4; i++) {
        const hair on = {.white = shares[i]};
        const double truth = truth_of(&on);
        synthetic_zone zone;
        measured(&on, &zone);
        const tdm_value found = zone.reading.grey.share;
        ck_assert_msg(fabs(found.value - truth) < fmin(0.05, found.u), "%g found as %g, u %g", truth,
                      found.value, found.u);
        ck_assert(tdm_warnings_have(&zone.warnings, "grey-hair"));
        /* 3: what shade of strands leaves of a tint. */
        ck_assert_double_eq_tol(zone.reading.grey.lab[1], 0, 3);
        ck_assert_double_eq_tol(zone.reading.grey.lab[2], 14, 3);
        synthetic_zone_free(&zone);
    }
}
END_TEST

/* Breaks if hair without grey gets some: plain, with light ribbons from the root on, under a band of shine.
 */
START_TEST(other_light_hair_is_not_grey)
{
    static const hair without[] = {{.white = 0}, {.lights = 0.35}, {.shine = 0.04}};
    for (size_t i = 0; i < 3; i++) {
        synthetic_zone zone;
        measured(&without[i], &zone);
        const tdm_value found = zone.reading.grey.share;
        ck_assert_msg(found.value < 0.02 && found.u > 0, "head %zu: %g, u %g", i, found.value, found.u);
        ck_assert(!tdm_warnings_have(&zone.warnings, "grey-hair"));
        ck_assert(isnan(zone.reading.grey.lab[0]));
        synthetic_zone_free(&zone);
    }
}
END_TEST

/* White hair on the lengths' light blonde, without a line. */
static void blonde(double s, double t, const void *about, double lab[3])
{
    (void)about;
    (void)s;
    const double f = by_chance(0.3, 4, (unsigned)lround(4 * t));
    const double own[3] = {60 + 10 * f, 3 - 3 * f, 20 - 6 * f};
    memcpy(lab, own, sizeof own);
}

/* Breaks if a share is told where white hair can't be told from the rest, or where cells are too large. */
START_TEST(what_cannot_be_told_is_null)
{
    static const hair on = {.white = 0.3};
    tdm_error error = {0};
    synthetic_zone zone;
    synthetic_zone_make(synthetic_strip(100, 40, blonde, NULL), &zone);
    ck_assert_int_eq(tdm_measure_grey.compute(&zone.input, &zone.reading, &zone.warnings, &error), TDM_OK);
    ck_assert(isnan(zone.reading.grey.share.value));
    synthetic_zone_free(&zone);
    synthetic_zone_make(synthetic_strip_of(100, 40, 0.5, head, &on), &zone);
    ck_assert_int_eq(tdm_measure_grey.compute(&zone.input, &zone.reading, &zone.warnings, &error), TDM_OK);
    ck_assert(isnan(zone.reading.grey.share.value));
    synthetic_zone_free(&zone);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {the_mix_is_found,
                                  colour_tells_what_is_light,
                                  grey_hair_is_counted,
                                  other_light_hair_is_not_grey,
                                  what_cannot_be_told_is_null,
                                  NULL};
    return run_suite("measure grey", tests);
}
