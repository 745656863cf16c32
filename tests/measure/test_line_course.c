/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a course named otherwise than it is drawn, a ragged line that passes for a zigzag, a slant of
 * the other sign, a gap or a spot that isn't there, is missed, or lies elsewhere. */
#include <math.h>
#include <string.h>

#include "colour/lab.h"
#include "measure/synthetic.h"
#include "suite.h"

/* A line on a strip of 160 by 100 mm, of columns 4 mm wide, by functions of t, mm from the left edge. */
typedef struct drawn {
    double width;              /* 10-90 % */
    double stagger;            /* sd of the columns' centres */
    double slant, sagitta;     /* mm a mm; mm between the middle and the chord of the edges, down */
    double zigzag, period;     /* mm peak to peak; of straight flanks */
    double gap_from, gap_to;   /* no step: root colour all the way … */
    bool light_gap;            /* … or the lengths' */
    double spot[4];            /* s, t, length, width of a patch of the lengths' colour */
    double streak_t, streak_w; /* light from the root on */
    double shine;              /* white light in place of the spot's colour, Y = 1 for the diffuser */
    unsigned seed;
} drawn;

static double flank(double t, double period)
{
    const double part = fmod(t, period) / period;
    return part < 0.5 ? 2 * part - 0.5 : 1.5 - 2 * part;
}

static double centre_of(const drawn *truth, double t)
{
    const double part = t / 50 - 1;
    const double wave = truth->period > 0 ? truth->zigzag * flank(t, truth->period) : 0;
    return 60 + truth->slant * (t - 50) + truth->sagitta * (1 - part * part) + wave +
           truth->stagger * synthetic_noise((unsigned)(t / 4), truth->seed);
}

static bool in_spot(const drawn *truth, double s, double t)
{
    return fabs(s - truth->spot[0]) <= 0.5 * truth->spot[2] &&
           fabs(t - truth->spot[1]) <= 0.5 * truth->spot[3];
}

/* Light off the surface is white: XYZ of D50 in proportion (ISO/CIE 11664-4, colour/lab.h's white). */
static void add_white(double amount, double lab[3])
{
    static const double white[3] = {0.9642, 1, 0.8249};
    double xyz[3];
    tdm_lab_to_xyz(lab, xyz);
    for (int k = 0; k < 3; k++)
        xyz[k] += amount * white[k];
    tdm_xyz_to_lab(xyz, lab);
}

static void colour(double s, double t, const void *about, double lab[3])
{
    const drawn *truth = about;
    const double sigma = truth->width / TDM_RISE_PER_SIGMA;
    double part = 0.5 * (1 + erf((s - centre_of(truth, t)) / sigma / sqrt(2)));
    if (t >= truth->gap_from && t < truth->gap_to)
        part = truth->light_gap ? 1 : 0;
    if (fabs(t - truth->streak_t) <= 0.5 * truth->streak_w)
        part = 1;
    const bool spot = in_spot(truth, s, t);
    if (spot && truth->shine <= 0)
        part = 1;
    lab[0] = 25 + 20 * part + 0.7 * synthetic_noise((unsigned)(t * 2), 5) +
             0.5 * synthetic_noise((unsigned)(t * 4), (unsigned)(s * 2));
    lab[1] = 5 + 2 * part;
    lab[2] = 9 + 10 * part;
    if (spot && truth->shine > 0)
        add_white(truth->shine, lab);
}

static void measure(const drawn *truth, synthetic_zone *zone)
{
    tdm_error error = {0};
    synthetic_zone_make(synthetic_strip(160, 100, colour, truth), zone);
    ck_assert_int_eq(tdm_measure_demarcation.compute(&zone->input, &zone->reading, &zone->warnings, &error),
                     TDM_OK);
    ck_assert_ptr_nonnull(zone->reading.demarcation.course);
}

START_TEST(straight_lines_have_a_slant_and_no_bend)
{
    const double slants[] = {0, 0.25, -0.25};
    for (int i = 0; i < 3; i++) {
        const drawn truth = {.width = 6, .stagger = 1.5, .slant = slants[i], .seed = 11};
        synthetic_zone zone;
        measure(&truth, &zone);
        ck_assert_str_eq(zone.reading.demarcation.course, "straight");
        /* 25 places with sd 1.5 mm give a slope of sd 1.5 / (100 sqrt(25 / 12)) = 1.04 mm in 100 mm: thrice
         */
        ck_assert_double_eq_tol(zone.reading.demarcation.slope.value, 100 * slants[i], 3.1);
        ck_assert(isfinite(zone.reading.demarcation.slope.u) && zone.reading.demarcation.slope.u < 10);
        ck_assert(isnan(zone.reading.demarcation.course_mm));
        ck_assert_double_eq(zone.reading.demarcation.gap_count, 0);
        ck_assert_double_eq(zone.reading.demarcation.bleed_count, 0);
        synthetic_zone_free(&zone);
    }
}
END_TEST

START_TEST(a_curve_is_told_with_its_bend)
{
    const double bends[] = {12, -12};
    for (int i = 0; i < 2; i++) {
        const drawn truth = {.width = 6, .stagger = 1.5, .sagitta = bends[i], .seed = 12};
        synthetic_zone zone;
        measure(&truth, &zone);
        ck_assert_str_eq(zone.reading.demarcation.course, "curved");
        /* between the outermost columns' middles: 0.96 of the width, 0.92 of the bend; noise adds half a mm
         */
        ck_assert_double_eq_tol(zone.reading.demarcation.course_mm, 0.92 * 12, 1.5);
        synthetic_zone_free(&zone);
    }
}
END_TEST

START_TEST(a_zigzag_is_told_with_its_height_and_period)
{
    const double heights[] = {6, 12, 20}, periods[] = {16, 20, 33};
    for (int i = 0; i < 3; i++) {
        const drawn truth = {
            .width = 5, .stagger = 1, .zigzag = heights[i], .period = periods[i], .seed = 13};
        synthetic_zone zone;
        measure(&truth, &zone);
        ck_assert_str_eq(zone.reading.demarcation.course, "zigzag");
        ck_assert_double_eq_tol(zone.reading.demarcation.zigzag_period_mm, periods[i], 0.08 * periods[i]);
        ck_assert_double_eq_tol(zone.reading.demarcation.course_mm, heights[i], fmax(1.5, 0.15 * heights[i]));
        synthetic_zone_free(&zone);
    }
}
END_TEST

/* Forty lines staggered at random: three in a thousand may alternate by chance, so more than two is a fault.
 */
START_TEST(a_ragged_line_is_no_zigzag)
{
    int zigzags = 0, curves = 0;
    for (unsigned seed = 100; seed < 140; seed++) {
        const drawn truth = {.width = 6, .stagger = 5, .seed = seed};
        synthetic_zone zone;
        measure(&truth, &zone);
        zigzags += strcmp(zone.reading.demarcation.course, "zigzag") == 0;
        curves += strcmp(zone.reading.demarcation.course, "curved") == 0;
        synthetic_zone_free(&zone);
    }
    ck_assert_int_le(zigzags, 2);
    ck_assert_int_le(curves, 2);
}
END_TEST

/* Columns of 4 mm begin at the edge: a gap from 32 to 48 mm is four of them. */
START_TEST(gaps_are_counted_with_their_place)
{
    for (int light = 0; light < 2; light++) {
        const drawn truth = {
            .width = 6, .stagger = 1, .gap_from = 32, .gap_to = 48, .light_gap = light == 1, .seed = 14};
        synthetic_zone zone;
        measure(&truth, &zone);
        ck_assert_double_eq(zone.reading.demarcation.gap_count, 1);
        const tdm_place *gap = &zone.reading.demarcation.gaps.items[0];
        ck_assert_double_eq_tol(gap->across_mm, -10, 1e-6); /* its middle, 40, from the strip's, 50 */
        ck_assert_double_eq_tol(gap->width_mm, 16, 1e-6);
        ck_assert_double_eq_tol(gap->mm, 60, 1.5);
        ck_assert_str_eq(zone.reading.demarcation.course, "straight");
        ck_assert_double_eq(zone.reading.demarcation.bleed_count, 0);
        synthetic_zone_free(&zone);
    }
}
END_TEST

START_TEST(a_line_with_wide_gaps_is_broken)
{
    const drawn truth = {.width = 6, .stagger = 1, .gap_from = 32, .gap_to = 64, .seed = 15};
    synthetic_zone zone;
    measure(&truth, &zone);
    ck_assert_str_eq(zone.reading.demarcation.course, "broken");
    ck_assert_double_eq_tol(zone.reading.demarcation.gaps.items[0].width_mm, 32, 1e-6);
    synthetic_zone_free(&zone);
}
END_TEST

START_TEST(bleeds_are_counted_with_their_place)
{
    const drawn truth = {.width = 6, .stagger = 1, .spot = {20, 70, 6, 4}, .seed = 16};
    synthetic_zone zone;
    measure(&truth, &zone);
    ck_assert_double_eq(zone.reading.demarcation.bleed_count, 1);
    const tdm_place *spot = &zone.reading.demarcation.bleeds.items[0];
    /* squares of half a mm: half of one to each side, and noise at the edge */
    ck_assert_double_eq_tol(spot->mm, 20, 0.6);
    ck_assert_double_eq_tol(spot->across_mm, 20, 0.6);
    ck_assert_double_eq_tol(spot->length_mm, 6, 1.1);
    ck_assert_double_eq_tol(spot->width_mm, 4, 1.1);
    synthetic_zone_free(&zone);
}
END_TEST

START_TEST(places_count_from_the_root_line)
{
    const drawn truth = {
        .width = 6, .stagger = 1, .gap_from = 32, .gap_to = 48, .spot = {20, 70, 6, 4}, .seed = 16};
    synthetic_zone zone;
    tdm_error error = {0};
    synthetic_zone_make(synthetic_strip(160, 100, colour, &truth), &zone);
    zone.strip.root = 30;
    ck_assert_int_eq(tdm_measure_demarcation.compute(&zone.input, &zone.reading, &zone.warnings, &error),
                     TDM_OK);
    ck_assert_double_eq_tol(zone.reading.demarcation.bleeds.items[0].mm, 50, 0.6);
    ck_assert_double_eq_tol(zone.reading.demarcation.gaps.items[0].mm, 90, 1.5);
    synthetic_zone_free(&zone);
}
END_TEST

/* Light strands that join the lengths, spots under 2 by 3 mm, and shine are none. */
START_TEST(what_is_no_bleed)
{
    const drawn none[] = {
        {.width = 6, .stagger = 1, .streak_t = 30, .streak_w = 3, .seed = 17},
        {.width = 6, .stagger = 1, .spot = {20, 70, 1.5, 4}, .seed = 17},
        {.width = 6, .stagger = 1, .spot = {20, 70, 8, 0.8}, .seed = 17},
        {.width = 6, .stagger = 1, .spot = {20, 70, 12, 6}, .shine = 0.05, .seed = 17},
    };
    for (size_t i = 0; i < sizeof none / sizeof none[0]; i++) {
        synthetic_zone zone;
        measure(&none[i], &zone);
        ck_assert_msg(zone.reading.demarcation.bleed_count == 0, "case %zu: %g", i,
                      zone.reading.demarcation.bleed_count);
        synthetic_zone_free(&zone);
    }
}
END_TEST

/* Normal places of one width blur the whole line to the root of the sum of squares, 2.5631 sd counted as a
 * width: within a tenth where the columns' places are many and normal. */
START_TEST(local_width_and_stagger_make_the_whole_width)
{
    const double widths[] = {4, 8, 20, 40}, staggers[] = {2, 5, 8, 12};
    for (int i = 0; i < 4; i++) {
        const drawn truth = {.width = widths[i], .stagger = staggers[i], .seed = 21 + (unsigned)i};
        synthetic_zone zone;
        measure(&truth, &zone);
        const double found = hypot(zone.reading.demarcation.local_width_mm.value,
                                   TDM_RISE_PER_SIGMA * zone.reading.demarcation.stagger_mm.value);
        const double whole = tdm_fall_width(&zone.fall);
        ck_assert_msg(fabs(found / whole - 1) < 0.1, "case %d: %.2f against %.2f", i, found, whole);
        synthetic_zone_free(&zone);
    }
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {straight_lines_have_a_slant_and_no_bend,
                                  a_curve_is_told_with_its_bend,
                                  a_zigzag_is_told_with_its_height_and_period,
                                  a_ragged_line_is_no_zigzag,
                                  gaps_are_counted_with_their_place,
                                  a_line_with_wide_gaps_is_broken,
                                  bleeds_are_counted_with_their_place,
                                  places_count_from_the_root_line,
                                  what_is_no_bleed,
                                  local_width_and_stagger_make_the_whole_width,
                                  NULL};
    return run_suite("line course", tests);
}
