/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: an angle taken wrong, a step hidden in texture called visible, a soft fall called hard, a line
 * made plainer by blending it. */
#include <math.h>
#include <stdio.h>

#include "measure/synthetic.h"
#include "measure/visibility.h"
#include "suite.h"

/* line_strip() of scielab_reference.py. L* and mm. */
typedef struct view {
    double step, width, stagger, texture;
    double grain; /* L*, sd from 0.5 mm to 0.5 mm */
    double centre;
    double tint; /* 1: a* and b* rise too */
    unsigned seed;
} view;

static void colour(double s, double t, const void *about, double lab[3])
{
    static const double locks[16] = {0.9, -1.3, 0.2,  1.6, -0.5, -0.9, 0.4,  -1.7,
                                     1.1, 0.0,  -0.3, 0.7, -1.0, 1.3,  -0.6, 0.1};
    static const double strands[16] = {0.3, -1.1, 1.4, -0.2, 0.8, -1.5, 0.6, -0.7,
                                       1.2, -0.4, 0.1, -0.9, 1.0, -1.2, 0.5, 0.2};
    const view *truth = about;
    const double lock = locks[(unsigned)fmin(t / 5, 15)];
    const double strand =
        truth->seed ? synthetic_noise((unsigned)(t / 2.5), truth->seed) : strands[(unsigned)(t / 2.5) % 16];
    const double z = (s - truth->centre - truth->stagger * lock) / (truth->width / 2.5631031310892007);
    const double part = 0.5 * (1 + erf(z / sqrt(2)));
    lab[0] = 35 + truth->step * part + truth->texture * strand;
    if (truth->grain > 0)
        lab[0] += truth->grain * synthetic_noise((unsigned)(s * 2), (unsigned)(t * 2) + 1000 * truth->seed);
    lab[1] = truth->tint * 6 * part;
    lab[2] = truth->tint * 9 * part;
}

static void look(const view *truth, double length, double cell, synthetic_zone *zone)
{
    tdm_error error = {0};
    synthetic_zone_make(synthetic_strip_of(length, 80, cell, colour, truth), zone);
    ck_assert_int_eq(tdm_measure_visibility.compute(&zone->input, &zone->reading, &zone->warnings, &error),
                     TDM_OK);
}

static double dprime_of(const view *truth, double length, double cell, double distance)
{
    tdm_error error = {0};
    synthetic_zone zone;
    double dprime = 0;
    synthetic_zone_make(synthetic_strip_of(length, 80, cell, colour, truth), &zone);
    ck_assert_int_eq(tdm_line_dprime(&zone.strip, &zone.fall, distance, &dprime, &error), TDM_OK);
    synthetic_zone_free(&zone);
    return dprime;
}

/* The whole figure, written a second time with dense matrices and the line's true place and width. 4 %: the
 * fit here finds place and width for itself, and the texture depends on both. */
START_TEST(as_a_second_implementation_finds_it)
{
    FILE *file = fopen(TEST_DATA "/measure/scielab_dprime.csv", "r");
    char line[256];
    int tried = 0;
    ck_assert_ptr_nonnull(file);
    while (fgets(line, sizeof line, file)) {
        view truth = {.centre = 100, .tint = 1};
        double distance, expected;
        if (sscanf(line, "%lf,%lf,%lf,%lf,%lf,%lf", &truth.step, &truth.width, &truth.stagger, &truth.texture,
                   &distance, &expected) != 6)
            continue;
        ck_assert_double_eq_tol(dprime_of(&truth, 200, 0.25, distance), expected, 0.04 * expected);
        tried++;
    }
    fclose(file);
    ck_assert_int_eq(tried, 15);
}
END_TEST

/* A sharp step of 11.5 L* on smooth hair is 5 just-noticeable differences of 2.3; the eye's luminance kernel
 * heightens contrast at an edge by up to 12 % (its response at 0.25 cycles a degree is 1.116), so 5 to 5.6.
 * (Grey hair with a smaller step might only be shaded.)
 */
START_TEST(a_sharp_step_counts_in_noticeable_differences)
{
    const view sharp = {.step = 11.5, .width = 0.5, .centre = 80};
    synthetic_zone zone;
    look(&sharp, 200, 0.25, &zone);
    for (int i = 0; i < TDM_DISTANCES; i++) {
        ck_assert_double_ge(zone.reading.demarcation.visibility[i].dprime, 4.94);
        ck_assert_double_le(zone.reading.demarcation.visibility[i].dprime, 5 * 1.12);
    }
    ck_assert_str_eq(zone.reading.demarcation.grade, "hard");
    ck_assert_double_eq_tol(zone.reading.demarcation.shows_from_m, 0.3, 1e-9);
    ck_assert(isnan(zone.reading.demarcation.hidden_from_m)); /* it still shows at 10 m */
    synthetic_zone_free(&zone);
}
END_TEST

/* Half a degree at 1.2 m is 10.47 mm. Across a rise of 10-90 % width w the means of two neighbouring
 * stretches of length h differ, for w >> h, by step * h * density(0) = 11.5 * 10.47 * 0.39894 / (60 / 2.5631)
 * = 2.05 L*, and by up to 12 % more through the eye's kernel. */
START_TEST(a_soft_fall_fades)
{
    const view soft = {.step = 11.5, .width = 60, .centre = 100};
    synthetic_zone zone;
    look(&soft, 200, 0.25, &zone);
    const tdm_visibility *seen = zone.reading.demarcation.visibility;
    ck_assert_double_ge(seen[1].dprime, 2.05 / 2.3 - 0.03);
    ck_assert_double_le(seen[1].dprime, 1.12 * 2.05 / 2.3 + 0.03);
    ck_assert_str_eq(zone.reading.demarcation.grade, "none");
    /* from nearer, one degree holds less of it; from further, more */
    ck_assert_double_lt(seen[0].dprime, seen[1].dprime);
    ck_assert_double_gt(seen[2].dprime, seen[1].dprime);
    /* d' is near enough in proportion to the distance to say where it passes 1 */
    ck_assert_double_eq_tol(zone.reading.demarcation.shows_from_m, 1.2 / seen[1].dprime, 0.15);
    ck_assert(isnan(zone.reading.demarcation.hidden_from_m));
    synthetic_zone_free(&zone);
}
END_TEST

/* Strands of 2.5 mm with a standard deviation of 7 L* are texture at 0.6 m and, being 3 degrees of arc / 60
 * wide there and far less at 10 m, the eye averages them little by little: d' rises with distance. */
START_TEST(texture_hides_a_step)
{
    const view smooth = {.step = 9.2, .width = 0.5, .centre = 80};
    const view rough = {.step = 9.2, .width = 0.5, .centre = 80, .texture = 7};
    ck_assert_double_lt(dprime_of(&rough, 200, 0.25, 1.2), 0.6 * dprime_of(&smooth, 200, 0.25, 1.2));
    ck_assert_double_gt(dprime_of(&rough, 200, 0.25, 3), 1.1 * dprime_of(&rough, 200, 0.25, 0.6));
}
END_TEST

enum { WIDTHS = 4, STAGGERS = 3, STEPS = 3 };

/* Everything that hides a line must lower d' and nothing that hides it may raise it. Stagger of 30 on a strip
 * of 200 mm leaves little plain hair, and noise of the fit comes in: 2 % is let pass. */
START_TEST(softer_more_ragged_and_fainter_lines_show_less)
{
    static const double widths[WIDTHS] = {3, 15, 45, 120}, staggers[STAGGERS] = {0, 8, 30},
                        steps[STEPS] = {2, 15, 40};
    const double slack = 1.02;
    double found[STEPS][WIDTHS][STAGGERS];
    for (int i = 0; i < STEPS * WIDTHS * STAGGERS; i++) {
        const int step = i / (WIDTHS * STAGGERS), width = i / STAGGERS % WIDTHS, stagger = i % STAGGERS;
        const view truth = {.step = steps[step],
                            .width = widths[width],
                            .stagger = staggers[stagger],
                            .texture = 4,
                            .centre = 110,
                            .tint = 1}; /* or the faintest might be light alone */
        const double here = dprime_of(&truth, 220, 0.5, 1.2);
        found[step][width][stagger] = here;
        ck_assert(isfinite(here));
        if (step > 0)
            ck_assert_double_lt(found[step - 1][width][stagger], slack * here);
        if (width > 0)
            ck_assert_double_gt(slack * found[step][width - 1][stagger], here);
        if (stagger > 0)
            ck_assert_double_gt(slack * found[step][width][stagger - 1], here);
    }
    /* and not by a hair's breadth */
    ck_assert_double_gt(found[1][0][0], 4 * found[1][3][0]);
    ck_assert_double_gt(found[1][0][0], 2 * found[1][0][2]);
    ck_assert_double_gt(found[2][2][1], 2.5 * found[0][2][1]); /* 41 CIELAB units against 11 */
}
END_TEST

/* Cells of 0.05 to 0.25 mm, with grain that the finest show and the eye averages: 3 %. */
START_TEST(the_size_of_pixels_makes_no_odds)
{
    const view truth = {.step = 15, .width = 8, .stagger = 2, .texture = 2, .grain = 2, .centre = 20};
    const double coarse = dprime_of(&truth, 40, 0.25, 0.6), far = dprime_of(&truth, 40, 0.25, 1.2);
    ck_assert_double_eq_tol(dprime_of(&truth, 40, 0.05, 0.6), coarse, 0.03 * coarse);
    ck_assert_double_eq_tol(dprime_of(&truth, 40, 0.1, 1.2), far, 0.03 * far);
    ck_assert_double_eq_tol(dprime_of(&truth, 40, 0.5, 1.2), far, 0.03 * far);
}
END_TEST

static void band_colour(double s, double t, const void *about, double lab[3])
{
    (void)t;
    (void)about;
    const bool inside = s > 40 && s < 52;
    lab[0] = inside ? 37 : 45;
    lab[1] = inside ? 5.2 : 4; /* redder, too, or it might be a shadow */
    lab[2] = inside ? 14 : 16;
}

/* A dark band 12 mm wide: half a degree is that long from 1.4 m on; at D m it is 8.73 D mm, and the band
 * fills the share 12 / (8.73 D) of it. 8.3 / 2.3 of that is 1 at 5 m, and the eye's kernel adds up to 12 %;
 * light rather than L* is averaged, and above the band there are only 40 mm, so 20 % to both sides. */
START_TEST(a_narrow_band_goes_out_of_sight)
{
    synthetic_zone zone;
    tdm_error error = {0};
    synthetic_zone_make(synthetic_strip_of(100, 40, 0.25, band_colour, NULL), &zone);
    ck_assert_int_eq(zone.fall.fit.shape, TDM_SHAPE_BAND);
    ck_assert_int_eq(tdm_measure_visibility.compute(&zone.input, &zone.reading, &zone.warnings, &error),
                     TDM_OK);
    ck_assert_double_eq_tol(zone.reading.demarcation.shows_from_m, 0.3, 1e-9);
    ck_assert_double_ge(zone.reading.demarcation.hidden_from_m, 4);
    ck_assert_double_le(zone.reading.demarcation.hidden_from_m, 6);
    synthetic_zone_free(&zone);
}
END_TEST

/* Grain and strands, and no step: far under one just-noticeable difference. */
START_TEST(an_even_zone_has_no_line)
{
    const view even = {.width = 1, .texture = 2, .grain = 3, .centre = 100};
    synthetic_zone zone;
    look(&even, 200, 0.5, &zone);
    for (int i = 0; i < TDM_DISTANCES; i++)
        ck_assert_double_lt(zone.reading.demarcation.visibility[i].dprime, 0.15);
    ck_assert_str_eq(zone.reading.demarcation.grade, "none");
    ck_assert(isnan(zone.reading.demarcation.shows_from_m));
    ck_assert(isnan(zone.reading.demarcation.hidden_from_m));
    synthetic_zone_free(&zone);
}
END_TEST

/* 8 mm below the root there is less than half a degree (10.5 mm at 1.2 m, 26 mm at 3 m) on one side: what
 * there is counts, and the step stays what it is to 10 %. With 4 mm of hair in all there is no quarter of
 * half a degree at 3 m on both sides (6.5 mm each), and nothing is said. */
START_TEST(too_little_hair_says_nothing)
{
    const view middle = {.step = 12, .width = 2, .centre = 60}, near = {.step = 12, .width = 2, .centre = 8};
    for (double distance = 1.2; distance < 3.5; distance *= 2.5) {
        const double there = dprime_of(&middle, 120, 0.25, distance);
        ck_assert_double_eq_tol(dprime_of(&near, 120, 0.25, distance), there, 0.1 * there);
    }
    const view little = {.step = 12, .width = 1, .centre = 5};
    ck_assert(isfinite(dprime_of(&little, 10, 0.1, 0.6)));
    ck_assert(isnan(dprime_of(&little, 10, 0.1, 3)));
}
END_TEST

/* Strands drawn anew: the spread of d' from zone to zone is what its u says, to a factor of 2 (16 zones give
 * a standard deviation to 21 %, blocks of a zone somewhat less than other strands). */
START_TEST(other_strands_lie_within_u)
{
    enum { ZONES = 12 };
    double sum = 0, square = 0, u = 0;
    for (unsigned i = 0; i < ZONES; i++) {
        const view truth = {.step = 15, .width = 5, .texture = 5, .centre = 50, .seed = i + 1};
        synthetic_zone zone;
        look(&truth, 100, 0.5, &zone);
        const tdm_visibility *seen = &zone.reading.demarcation.visibility[1];
        sum += seen->dprime;
        square += seen->dprime * seen->dprime;
        u += seen->u / ZONES;
        synthetic_zone_free(&zone);
    }
    const double sd = sqrt((square - sum * sum / ZONES) / (ZONES - 1));
    ck_assert_double_gt(u, sd);
    ck_assert_double_lt(u, 4 * sd);
}
END_TEST

/* Mokrzycki and Tatol (2011). */
START_TEST(grades_by_dprime)
{
    ck_assert_str_eq(tdm_line_grade(0), "none");
    ck_assert_str_eq(tdm_line_grade(0.99), "none");
    ck_assert_str_eq(tdm_line_grade(1), "soft");
    ck_assert_str_eq(tdm_line_grade(2), "visible");
    ck_assert_str_eq(tdm_line_grade(3.49), "visible");
    ck_assert_str_eq(tdm_line_grade(3.5), "hard");
    ck_assert_ptr_null(tdm_line_grade(NAN));
}
END_TEST

START_TEST(no_scale_no_angle)
{
    const view sharp = {.step = 11.5, .width = 0.5, .centre = 80};
    synthetic_zone zone;
    tdm_error error = {0};
    synthetic_zone_make(synthetic_strip_of(200, 80, 0.5, colour, &sharp), &zone);
    zone.strip.scaled = false;
    ck_assert_int_eq(tdm_measure_visibility.compute(&zone.input, &zone.reading, &zone.warnings, &error),
                     TDM_OK);
    ck_assert(isnan(zone.reading.demarcation.visibility[1].dprime));
    ck_assert(isnan(zone.reading.demarcation.visibility[1].u));
    ck_assert(isnan(zone.reading.demarcation.shows_from_m));
    ck_assert_ptr_null(zone.reading.demarcation.grade);
    synthetic_zone_free(&zone);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {as_a_second_implementation_finds_it,
                                  a_sharp_step_counts_in_noticeable_differences,
                                  a_soft_fall_fades,
                                  texture_hides_a_step,
                                  softer_more_ragged_and_fainter_lines_show_less,
                                  the_size_of_pixels_makes_no_odds,
                                  a_narrow_band_goes_out_of_sight,
                                  an_even_zone_has_no_line,
                                  too_little_hair_says_nothing,
                                  other_strands_lie_within_u,
                                  grades_by_dprime,
                                  no_scale_no_angle,
                                  NULL};
    return run_suite("visibility", tests);
}
