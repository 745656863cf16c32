/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: strands, shade, roundness or gloss called patches, a warm patch missed or put elsewhere, a
 * light one called warm, patchiness that the course from root to ends or chance adds to. */
#include <math.h>

#include "colour/lab.h"
#include "measure/synthetic.h"
#include "suite.h"

/* Hair of 140 by 60 mm, L* 40, hue 68 degrees, with strands of a millimetre. */
typedef struct hair {
    unsigned seed;
    double texture;      /* standard deviation of L* from strand to strand */
    double light;        /* share of light strands, 16 L* and 11 b* above */
    double course;       /* L* from root to ends */
    double at[2];        /* s, t of a patch's middle, mm */
    double size[2];      /* along, across; 0 for none */
    double shift[3];     /* what it adds */
    double cells;        /* standard deviation of L* between cells of 10 mm, which is patchiness */
    double shade, gloss; /* light less and white more, each in places of 15 mm and of its own */
    double round;        /* light less at the sides */
} hair;

static double ripple(double s, double t, double turn)
{
    return 0.5 + 0.5 * sin(s / 4.8 + turn) * sin(t / 4.8 + 2 * turn);
}

static void strand(const hair *of, double s, double t, double lab[3])
{
    const unsigned col = (unsigned)t + 1000 * of->seed;
    const double tint = of->texture * synthetic_noise(col, (unsigned)(s / 40));
    const bool light = fabs(synthetic_noise(col, 5000)) < 1.2 * of->light;
    lab[0] = 40 + tint + of->course * s / 140 + (light ? 16 : 0);
    lab[1] = 8 * lab[0] / 40;
    lab[2] = 20 * lab[0] / 40 + (light ? 3 : 0);
    lab[0] += synthetic_noise((unsigned)(4 * s) + 7000, (unsigned)(4 * t) + of->seed); /* the camera */
}

static void drawn(double s, double t, const void *about, double lab[3])
{
    const hair *of = about;
    double xyz[3];
    strand(of, s, t, lab);
    lab[0] += of->cells * synthetic_noise((unsigned)(s / 10) + 31, (unsigned)(t / 10) + 100 * of->seed);
    if (of->size[0] > 0 && hypot(2 * (s - of->at[0]) / of->size[0], 2 * (t - of->at[1]) / of->size[1]) <= 1) {
        for (int k = 0; k < 3; k++)
            lab[k] += of->shift[k];
    }
    tdm_lab_to_xyz(lab, xyz);
    const double side = t / 30 - 1;
    for (int k = 0; k < 3; k++)
        xyz[k] = xyz[k] * (1 - of->shade * ripple(s, t, of->seed)) * (1 - of->round * side * side) +
                 of->gloss * ripple(t, s, of->seed + 1.5) * tdm_white_d50[k];
    tdm_xyz_to_lab(xyz, lab);
}

/* As strand() draws them. */
static const double light_strands[3] = {56, 11.2, 31}, dark_strands[3] = {40, 8, 20};

static void measure(const hair *of, synthetic_zone *zone)
{
    tdm_error error = {0};
    synthetic_zone_make(synthetic_strip_of(140, 60, 0.5, drawn, of), zone);
    zone->reading.strands.separable = of->light > 0;
    for (int k = 0; k < 3; k++) {
        zone->reading.strands.light_lab[k] = light_strands[k];
        zone->reading.strands.dark_lab[k] = dark_strands[k];
    }
    ck_assert_int_eq(tdm_measure_evenness.compute(&zone->input, &zone->reading, &zone->warnings, &error),
                     TDM_OK);
}

/* One zone in fifty may have a patch: none of eight, one of each kind. */
START_TEST(even_hair_has_no_warm_patch)
{
    static const hair kinds[] = {{.texture = 1.5},
                                 {.texture = 3, .course = 15},
                                 {.texture = 1.5, .light = 0.3},
                                 {.texture = 1.5, .light = 0.15, .course = 10},
                                 {.texture = 1.5, .shade = 0.3},
                                 {.texture = 1.5, .shade = 0.15, .light = 0.3, .round = 0.4},
                                 {.texture = 1.5, .gloss = 0.01},
                                 {.texture = 1.5, .gloss = 0.01, .shade = 0.2, .round = 0.3}};
    for (unsigned i = 0; i < 8; i++) {
        hair of = kinds[i % 8];
        synthetic_zone zone;
        of.seed = 1 + i / 8;
        measure(&of, &zone);
        ck_assert_msg(zone.reading.evenness.warm_count == 0, "kind %u, seed %u: %g warm patches", i % 8,
                      of.seed, zone.reading.evenness.warm_count);
        ck_assert(isnan(zone.reading.evenness.warmth.value));
        ck_assert_ptr_nonnull(zone.reading.evenness.warm.items);
        synthetic_zone_free(&zone);
    }
}
END_TEST

/* Towards orange, a hue of 60 degrees, by 6 units: a* 3, b* 5.2. */
START_TEST(a_warm_patch_is_found_where_it_is)
{
    static const double sizes[][2] = {{12, 12}, {30, 16}, {40, 22}}, lights[] = {0, 0.2};
    for (int i = 0; i < 6; i++) {
        hair of = {.seed = 3, .texture = 1.5, .light = lights[i % 2], .at = {75, 24}};
        synthetic_zone zone;
        for (int k = 0; k < 2; k++)
            of.size[k] = sizes[i / 2][k];
        of.shift[1] = 3;
        of.shift[2] = 5.196;
        measure(&of, &zone);
        ck_assert_msg(zone.reading.evenness.warm_count == 1, "patch %d: %g", i,
                      zone.reading.evenness.warm_count);
        const tdm_place *place = &zone.reading.evenness.warm.items[0];
        ck_assert_double_eq_tol(place->mm, 75, 4); /* windows are 2.5 mm apart */
        ck_assert_double_eq_tol(place->across_mm, 24 - 30, 4);
        ck_assert_double_eq_tol(place->length_mm, of.size[0], 7.5); /* a window */
        ck_assert_double_eq_tol(place->width_mm, of.size[1], 7.5);
        /* A small one is smoothed by the window, which its uncertainty says; none is made more of. */
        ck_assert_double_lt(zone.reading.evenness.warmth.value, 6.3);
        ck_assert_double_eq_tol(zone.reading.evenness.warmth.value, 6, zone.reading.evenness.warmth.u);
        ck_assert_double_lt(zone.reading.evenness.warmth.u, 3);
        synthetic_zone_free(&zone);
    }
}
END_TEST

/* What is lighter, darker or ashier isn't warmer. */
START_TEST(other_patches_are_not_warm)
{
    static const double shifts[][3] = {{8, 1.6, 4}, {-8, -1.6, -4}, {0, -3, -5.2}, {10, 0, 0}};
    for (int i = 0; i < 4; i++) {
        hair of = {.seed = 4, .texture = 1.5, .at = {75, 24}, .size = {30, 16}};
        synthetic_zone zone;
        for (int k = 0; k < 3; k++)
            of.shift[k] = shifts[i][k];
        measure(&of, &zone);
        ck_assert_msg(zone.reading.evenness.warm_count == 0, "patch %d", i);
        synthetic_zone_free(&zone);
    }
}
END_TEST

START_TEST(patchiness_is_what_was_drawn)
{
    static const double spreads[] = {0, 2, 4};
    for (int i = 0; i < 3; i++) {
        hair of = {
            .seed = 5, .texture = 2, .course = 20, .cells = spreads[i], .light = 0.1 * i, .round = 0.4};
        synthetic_zone zone;
        measure(&of, &zone);
        const double seen = zone.reading.evenness.patchiness_lstar.value;
        /* 84 cells have a spread of their own: a tenth either way; 0.6 L* for chance */
        ck_assert_double_eq_tol(seen, spreads[i], 0.1 * spreads[i] + 0.6);
        ck_assert_double_le(fabs(seen - spreads[i]), zone.reading.evenness.patchiness_lstar.u);
        /* CIEDE2000 is at most L*'s difference at L* 40, and about 0.87 of it: S_L is 1.15 there. */
        ck_assert_double_le(zone.reading.evenness.patchiness_de00.value, seen + 0.6);
        ck_assert_double_ge(zone.reading.evenness.patchiness_de00.value, 0.8 * seen - 0.6);
        synthetic_zone_free(&zone);
    }
}
END_TEST

/* Too small for cells of 10 mm, or without mm: null, and the first says why. */
START_TEST(nothing_is_told_of_a_narrow_zone)
{
    const hair of = {.seed = 6, .texture = 2};
    synthetic_zone zone;
    tdm_error error = {0};
    synthetic_zone_make(synthetic_strip(100, 20, drawn, &of), &zone);
    ck_assert_int_eq(tdm_measure_evenness.compute(&zone.input, &zone.reading, &zone.warnings, &error),
                     TDM_OK);
    ck_assert(isnan(zone.reading.evenness.patchiness_de00.value));
    ck_assert(isnan(zone.reading.evenness.warm_count));
    ck_assert_uint_eq(zone.warnings.count, 1);
    ck_assert_str_eq(zone.warnings.items[0].code, "small-evenness");
    zone.strip.scaled = false;
    ck_assert_int_eq(tdm_measure_evenness.compute(&zone.input, &zone.reading, &zone.warnings, &error),
                     TDM_OK);
    ck_assert(isnan(zone.reading.evenness.patchiness_de00.value));
    ck_assert_uint_eq(zone.warnings.count, 1);
    synthetic_zone_free(&zone);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {even_hair_has_no_warm_patch,      a_warm_patch_is_found_where_it_is,
                                  other_patches_are_not_warm,       patchiness_is_what_was_drawn,
                                  nothing_is_told_of_a_narrow_zone, NULL};
    return run_suite("evenness", tests);
}
