/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: where each ribbon starts and how softly, followed up along its strands; ribbons light from the
 * root on; lengths. */
#include <gsl/gsl_cdf.h>
#include <math.h>
#include <stdlib.h>

#include "measure/drawn_grid.h"
#include "measure/ribbon_start.h"
#include "measure/shape.h"
#include "suite.h"

/* Ribbons 3 mm wide each 10 mm, running down by a slope; every one starts at its own place. */
typedef struct starts {
    double first, step; /* mm: of ribbon i is first + step i */
    double onset;
    double slope;
} starts;

static void colour(double s, double t, const void *about, double lab[3])
{
    const starts *truth = about;
    const double home = t - truth->slope * s;
    const double i = floor(home / 10);
    const bool ribbon = home - 10 * i >= 4 && home - 10 * i < 7;
    const double centre = truth->first + truth->step * i;
    const double part = ribbon ? gsl_cdf_ugaussian_P((s - centre) * TDM_RISE_PER_SIGMA / truth->onset) : 0;
    lab[0] = 28 + 18 * part + 0.7 * synthetic_noise((unsigned)(s * 4), (unsigned)(t * 4));
    lab[1] = 6;
    lab[2] = 10 + 12 * part;
}

/* The ribbons as they would be tracked from `from` down. */
static void track(const starts *truth, double from, double width, tdm_strand_map *map)
{
    *map =
        (tdm_strand_map){.windows = 20, .cols = (size_t)(width * 4), .from = from, .window = 2, .cell = 0.25};
    map->ribbons = calloc(32, sizeof *map->ribbons);
    ck_assert_ptr_nonnull(map->ribbons);
    for (double i = 0; i < 30; i++) {
        const double left = 10 * i + 4 + truth->slope * from;
        if (left < 1 || left + truth->slope * 40 > width - 4 || left + truth->slope * 40 < 1 ||
            left > width - 4)
            continue;
        tdm_ribbon *ribbon = map->ribbons + map->ribbon_count++;
        *ribbon = (tdm_ribbon){.windows = 20, .start = NAN, .onset = NAN};
        ribbon->edges = malloc(40 * sizeof *ribbon->edges);
        ck_assert_ptr_nonnull(ribbon->edges);
        for (size_t k = 0; k < 20; k++) {
            ribbon->edges[2 * k] = 10 * i + 4 + truth->slope * (from + 2 * (double)k + 1);
            ribbon->edges[2 * k + 1] = ribbon->edges[2 * k] + 3;
        }
    }
}

static double ribbon_index(const starts *truth, const tdm_strand_map *map, const tdm_ribbon *ribbon)
{
    return round((ribbon->edges[0] - 4 - truth->slope * (map->from + 1)) / 10);
}

static void check(const starts *truth)
{
    static const double light[] = {46, 6, 22}, dark[] = {28, 6, 10};
    double slope = truth->slope;
    const tdm_strand_field field = {.rows = 1, .cols = 1, .step = 10, .slope = &slope};
    synthetic_zone zone;
    tdm_strand_map map;
    tdm_error error = {0};
    synthetic_zone_make(synthetic_strip(150, 60, colour, truth), &zone);
    track(truth, 90, 60, &map);
    ck_assert_uint_ge(map.ribbon_count, 2);
    ck_assert_int_eq(tdm_ribbon_starts(&zone.input, &field, light, dark, &map, &error), TDM_OK);
    for (size_t i = 0; i < map.ribbon_count; i++) {
        const tdm_ribbon *ribbon = map.ribbons + i;
        const double centre = truth->first + truth->step * ribbon_index(truth, &map, ribbon);
        /* Noise of 0.7 L* on a rise of 22, cells by the dozen a step: a tenth of a step and more. */
        ck_assert_double_eq_tol(ribbon->start, centre, 1);
        ck_assert_double_eq_tol(ribbon->onset, truth->onset, fmax(1, 0.1 * truth->onset));
    }
    tdm_strand_map_clear(&map);
    synthetic_zone_free(&zone);
}

START_TEST(each_ribbon_has_its_own_start)
{
    const starts truth = {.first = 25, .step = 6, .onset = 6};
    check(&truth);
}
END_TEST

START_TEST(onsets_from_sharp_to_soft)
{
    static const double onsets[] = {2, 12, 30};
    for (size_t i = 0; i < 3; i++) {
        const starts truth = {.first = 45, .step = 1, .onset = onsets[i]};
        check(&truth);
    }
}
END_TEST

START_TEST(strands_aslant_are_followed_up)
{
    const starts truth = {.first = 20, .step = 5, .onset = 8, .slope = 0.25};
    check(&truth);
}
END_TEST

START_TEST(light_from_the_root_on_starts_at_0)
{
    static const double light[] = {46, 6, 22}, dark[] = {28, 6, 10};
    const starts truth = {.first = -200, .step = 0, .onset = 6};
    synthetic_zone zone;
    tdm_strand_map map;
    tdm_error error = {0};
    synthetic_zone_make(synthetic_strip(150, 60, colour, &truth), &zone);
    track(&truth, 90, 60, &map);
    ck_assert_int_eq(tdm_ribbon_starts(&zone.input, NULL, light, dark, &map, &error), TDM_OK);
    for (size_t i = 0; i < map.ribbon_count; i++) {
        ck_assert_double_eq(map.ribbons[i].start, 0);
        ck_assert(isnan(map.ribbons[i].onset));
    }
    tdm_strand_map_clear(&map);
    synthetic_zone_free(&zone);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {each_ribbon_has_its_own_start, onsets_from_sharp_to_soft,
                                  strands_aslant_are_followed_up, light_from_the_root_on_starts_at_0, NULL};
    return run_suite("ribbon start", tests);
}
