/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: local width read from the overall profile, a slanting line taken for stagger, a line on
 * uniform hair. */
#include <math.h>

#include "measure/synthetic.h"
#include "suite.h"

typedef struct line_truth {
    double width;   /* of every column, 10-90 % */
    double stagger; /* sd of the columns' centres, one draw every 4 mm */
    double slant;   /* mm of centre for each mm across */
    double bend;    /* mm at the edges against the middle */
    double share;   /* of the columns that have a step */
} line_truth;

static double centre_of(const line_truth *truth, double t)
{
    const double part = t / 100 - 0.5;
    return 50 + truth->slant * (t - 50) + truth->bend * 4 * part * part +
           truth->stagger * synthetic_noise((unsigned)(t / 4), 11);
}

static void line_colour(double s, double t, const void *about, double lab[3])
{
    const line_truth *truth = about;
    const double sigma = truth->width / 2.5631031310892007;
    const double part = 0.5 * (1 + erf((s - centre_of(truth, t)) / sigma / sqrt(2)));
    const bool step = fmod(t, 20) < 20 * truth->share;
    lab[0] = 25 + (step ? 20 * part : 0) + 0.5 * synthetic_noise((unsigned)(t * 4), (unsigned)(s * 2));
    lab[1] = 4;
    lab[2] = 8;
}

/* Widths are held to a tenth, or to 0.4 mm where cells of 0.25 mm and bins of 0.5 mm set the floor; a line
 * bent by 15 mm adds its slope within a column of 4 mm, hence 0.8 mm there. Staggers that aren't there are
 * held to that slope too. */
static void measure(const line_truth *truth, synthetic_zone *zone)
{
    tdm_error error = {0};
    synthetic_zone_make(synthetic_strip(200, 100, line_colour, truth), zone);
    ck_assert_int_eq(tdm_measure_demarcation.compute(&zone->input, &zone->reading, &zone->warnings, &error),
                     TDM_OK);
}

/* 25 columns of 4 mm: the robust sd of 25 normal values has a standard error of about 23 %, but the truth
 * here is the very centres drawn, so only the fit's own error counts: 10 %. */
static double drawn_stagger(const line_truth *truth)
{
    double centres[25], mean = 0;
    for (unsigned i = 0; i < 25; i++) {
        centres[i] = truth->stagger * synthetic_noise(i, 11);
        mean += centres[i] / 25;
    }
    double slope = 0, below = 0; /* a straight line is taken out of the truth too */
    for (int i = 0; i < 25; i++) {
        slope += (i - 12) * (centres[i] - mean);
        below += (i - 12) * (i - 12);
    }
    double sum = 0;
    for (int i = 0; i < 25; i++)
        sum += pow(centres[i] - mean - slope / below * (i - 12), 2);
    return sqrt(sum / 23);
}

START_TEST(staggered_line)
{
    const line_truth truth = {.width = 6, .stagger = 5, .share = 1};
    synthetic_zone zone;
    measure(&truth, &zone);
    ck_assert_double_eq_tol(zone.reading.demarcation.local_width_mm.value, 6, 0.6);
    /* robust against root-mean-square sd of the same 25 draws: they differ by up to a third by chance */
    ck_assert_double_eq_tol(zone.reading.demarcation.stagger_mm.value, drawn_stagger(&truth),
                            0.33 * drawn_stagger(&truth));
    ck_assert_double_eq_tol(zone.reading.demarcation.span, 1, 1e-9);
    synthetic_zone_free(&zone);
}
END_TEST

START_TEST(slanting_and_bent_lines_are_not_staggered)
{
    const line_truth slanting = {.width = 6, .slant = 0.3, .share = 1};
    const line_truth bent = {.width = 6, .bend = 15, .share = 1};
    synthetic_zone zone;
    measure(&slanting, &zone);
    ck_assert_double_lt(zone.reading.demarcation.stagger_mm.value, 0.5);
    synthetic_zone_free(&zone);
    measure(&bent, &zone);
    ck_assert_double_lt(zone.reading.demarcation.stagger_mm.value, 0.7);
    ck_assert_double_eq_tol(zone.reading.demarcation.local_width_mm.value, 6, 0.8);
    synthetic_zone_free(&zone);
}
END_TEST

START_TEST(soft_and_hard_are_told_apart)
{
    const line_truth hard = {.width = 3, .stagger = 0.5, .share = 1},
                     soft = {.width = 40, .stagger = 0.5, .share = 1};
    synthetic_zone zone;
    measure(&hard, &zone);
    ck_assert_double_eq_tol(zone.reading.demarcation.local_width_mm.value, 3, 0.4);
    synthetic_zone_free(&zone);
    measure(&soft, &zone);
    ck_assert_double_eq_tol(zone.reading.demarcation.local_width_mm.value, 40, 4);
    synthetic_zone_free(&zone);
}
END_TEST

START_TEST(span_is_the_share_of_columns_with_a_step)
{
    const line_truth half = {.width = 6, .share = 0.6};
    synthetic_zone zone;
    measure(&half, &zone);
    ck_assert_double_eq_tol(zone.reading.demarcation.span, 0.6, 0.05);
    synthetic_zone_free(&zone);
}
END_TEST

START_TEST(uniform_hair_has_no_line)
{
    const line_truth none = {.width = 6, .share = 0};
    synthetic_zone zone;
    measure(&none, &zone);
    ck_assert_double_eq(zone.reading.demarcation.span, 0);
    ck_assert(isnan(zone.reading.demarcation.local_width_mm.value));
    synthetic_zone_free(&zone);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {staggered_line,
                                  slanting_and_bent_lines_are_not_staggered,
                                  soft_and_hard_are_told_apart,
                                  span_is_the_share_of_columns_with_a_step,
                                  uniform_hair_has_no_line,
                                  NULL};
    return run_suite("demarcation", tests);
}
