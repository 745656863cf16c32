/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: shading taken for colour or colour for shading, a shade that lightens, a feather of another
 * width, a melt that flattens the strands' texture or leaves it where the shade covers. */
#include <math.h>
#include <string.h>

#include "colour/lab.h"
#include "measure/measure.h"
#include "plan/made_hair.h"
#include "plan/simulate.h"
#include "suite.h"

/* A drawn zone, read as far as a plan needs it. */
static void open_zone(const made_head *head, synthetic_zone *zone)
{
    synthetic_zone_make(synthetic_strip(200, 60, made_head_colour, head), zone);
    tdm_error error = {0};
    ck_assert_int_eq(tdm_measure_strands.compute(&zone->input, &zone->reading, &zone->warnings, &error),
                     TDM_OK);
}

static void part(synthetic_zone *zone, tdm_hair *hair)
{
    tdm_error error = {0};
    ck_assert_msg(tdm_hair_make(&zone->strip, &zone->fall, &zone->reading, hair, &error) == TDM_OK, "%s",
                  error.text);
}

static tdm_line_figures measured(const tdm_strip *strip)
{
    tdm_line_figures figures;
    tdm_error error = {0};
    ck_assert_int_eq(tdm_line_measure(strip, 1.2, &figures, &error), TDM_OK);
    return figures;
}

static const struct {
    double depth, to, feather;
    double jitter, shading, light_share, width;
} cases[] = {
    {0.125, 60, 60, 1, 0.15, 0.4, 5}, {0.25, 60, 60, 1, 0.15, 0.4, 5},  {0.5, 60, 60, 1, 0.15, 0.4, 5},
    {0.25, 45, 30, 4, 0.15, 0.4, 12}, {0.25, 90, 40, 1, 0.15, 0.15, 5}, {0.25, 60, 90, 2, 0.25, 0.6, 20},
    {0.25, 60, 60, 1, 0.15, 0, 5},
};

static void mean_lab(const tdm_strip *strip, double from, double to, double lab[3])
{
    double sum[3] = {0, 0, 0};
    const size_t first = (size_t)(from / strip->cell), last = (size_t)(to / strip->cell);
    for (size_t cell = first * strip->cols; cell < last * strip->cols; cell++) {
        for (size_t k = 0; k < 3; k++)
            sum[k] += (double)strip->xyz[3 * cell + k] / (double)((last - first) * strip->cols);
    }
    tdm_xyz_to_lab(sum, lab);
}

/* The colours are given to the drawing. A line 8 mm below the zone's start leaves 5 mm of root before it, one
 * 8 mm above its end as much of the lengths: hair from within the line would be off by 5 units. Tolerance:
 * half of a just-noticeable difference, for shading that doesn't even out over 5 mm. */
START_TEST(ends_are_outside_the_line)
{
    made_head head = made_regrown();
    head.light_share = 0;
    head.centre = _i == 0 ? 8 : 192;
    synthetic_zone zone;
    tdm_hair hair;
    open_zone(&head, &zone);
    ck_assert_int_eq(zone.fall.fit.shape, TDM_SHAPE_TRANSITION);
    part(&zone, &hair);
    ck_assert_double_eq_tol(hair.root_lab[0], head.root[0], 1.15);
    ck_assert_double_eq_tol(hair.lengths_lab[0], head.dark[0], 1.15);
    tdm_hair_free(&hair);
    synthetic_zone_free(&zone);
}
END_TEST

/* A fifth of what the eye can tell: the strands' own colours are found, not given. */
static void check_profile(const tdm_strip *simulated, const tdm_strip *drawn)
{
    for (double from = 0; from < simulated->length; from += 10) {
        double a[3], b[3];
        mean_lab(simulated, from, from + 10, a);
        mean_lab(drawn, from, from + 10, b);
        ck_assert_double_lt(tdm_de00(a, b), 0.4);
    }
}

/* The library parts hair that it sees; the drawing shades each strand before it is lit. Tolerances: half of
 * what a rendered photograph is allowed, since nothing is lost to a camera here. */
START_TEST(simulated_melt_is_the_drawn_one)
{
    made_head head = made_regrown();
    head.jitter = cases[_i].jitter;
    head.shading = cases[_i].shading;
    head.light_share = cases[_i].light_share;
    head.width = cases[_i].width;
    synthetic_zone zone, truth;
    tdm_hair hair;
    open_zone(&head, &zone);
    part(&zone, &hair);
    tdm_melt melt = {.to = cases[_i].to, .feather = cases[_i].feather};
    for (int k = 0; k < 3; k++)
        melt.lab[k] = hair.root_lab[k] + cases[_i].depth * (hair.lengths_lab[k] - hair.root_lab[k]);
    const made_shade shade = {
        .lab = {melt.lab[0], melt.lab[1], melt.lab[2]}, .to = melt.to, .feather = melt.feather};
    head.shade = &shade;
    open_zone(&head, &truth);

    tdm_strip after;
    tdm_error error = {0};
    ck_assert_int_eq(tdm_melt_scratch(&hair, &after, &error), TDM_OK);
    tdm_melt_apply(&hair, &melt, &after);
    const tdm_line_figures simulated = measured(&after), drawn = measured(&truth.strip);
    ck_assert_int_eq(simulated.shape, drawn.shape);
    ck_assert_double_eq_tol(simulated.centre_mm, drawn.centre_mm, 1);
    ck_assert_double_eq_tol(simulated.width_mm, drawn.width_mm, 0.05 * drawn.width_mm);
    ck_assert_double_eq_tol(simulated.dprime, drawn.dprime, 0.05 * drawn.dprime);
    check_profile(&after, &truth.strip);
    tdm_strip_free(&after);
    tdm_hair_free(&hair);
    synthetic_zone_free(&truth);
    synthetic_zone_free(&zone);
}
END_TEST

/* 10 and 90 % of the shade at half of the feather to either side of its middle. */
START_TEST(feather_is_from_ten_to_ninety_percent)
{
    const tdm_melt melt = {.to = 50, .feather = 30}, edge = {.to = 50, .feather = 0};
    ck_assert_double_eq_tol(tdm_melt_cover(&melt, 35), 0.9, 1e-9);
    ck_assert_double_eq_tol(tdm_melt_cover(&melt, 50), 0.5, 1e-9);
    ck_assert_double_eq_tol(tdm_melt_cover(&melt, 65), 0.1, 1e-9);
    ck_assert_double_eq(tdm_melt_cover(&edge, 49.9), 1);
    ck_assert_double_eq(tdm_melt_cover(&edge, 50.1), 0);
}
END_TEST

/* A shade lighter than every strand colours nothing, and cells that aren't hair are left as they are. */
START_TEST(shade_deposits_only)
{
    const made_head head = made_regrown();
    synthetic_zone zone;
    tdm_hair hair;
    open_zone(&head, &zone);
    memset(zone.strip.use, 0, 100);
    part(&zone, &hair);
    const tdm_melt light = {.lab = {75, 5, 20}, .to = 300, .feather = 5},
                   dark = {.lab = {16, 1, 1}, .to = 300, .feather = 5};
    tdm_strip after;
    tdm_error error = {0};
    ck_assert_int_eq(tdm_melt_scratch(&hair, &after, &error), TDM_OK);
    tdm_melt_apply(&hair, &light, &after);
    const size_t size = 3 * after.rows * after.cols * sizeof *after.xyz;
    ck_assert_mem_eq(after.xyz, zone.strip.xyz, size);
    tdm_melt_apply(&hair, &dark, &after);
    ck_assert_mem_eq(after.xyz, zone.strip.xyz, 3 * 100 * sizeof *after.xyz);
    ck_assert_float_lt(after.xyz[3 * 100 + 1], zone.strip.xyz[3 * 100 + 1]);
    tdm_strip_free(&after);
    tdm_hair_free(&hair);
    synthetic_zone_free(&zone);
}
END_TEST

/* Searching on coarse hair finds what the whole hair shows. */
START_TEST(coarse_hair_measures_as_fine_hair)
{
    const made_head head = made_regrown();
    synthetic_zone zone;
    tdm_hair fine, coarse;
    open_zone(&head, &zone);
    part(&zone, &fine);
    tdm_error error = {0};
    ck_assert_int_eq(tdm_hair_coarser(&fine, 0.75, &coarse, &error), TDM_OK);
    ck_assert_uint_eq(coarse.strip.rows, (fine.strip.rows + 2) / 3);
    const tdm_line_figures a = measured(&fine.strip), b = measured(&coarse.strip);
    ck_assert_double_eq_tol(a.width_mm, b.width_mm, 0.5);
    ck_assert_double_eq_tol(a.dprime, b.dprime, 0.03 * a.dprime);
    tdm_hair_free(&fine);
    tdm_hair_free(&coarse);
    synthetic_zone_free(&zone);
}
END_TEST

int main(void)
{
    TCase *tests = patient_case("melt");
    tcase_add_loop_test(tests, simulated_melt_is_the_drawn_one, 0, (int)(sizeof cases / sizeof cases[0]));
    tcase_add_loop_test(tests, ends_are_outside_the_line, 0, 2);
    tcase_add_test(tests, feather_is_from_ten_to_ninety_percent);
    tcase_add_test(tests, shade_deposits_only);
    tcase_add_test(tests, coarse_hair_measures_as_fine_hair);
    return run_case("melt", tests);
}
