/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "compare/made_reading.h"

#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "measure/budget.h"

char *made_copy(const char *string)
{
    char *copy = strdup(string);
    ck_assert_ptr_nonnull(copy);
    return copy;
}

tdm_reading *made_reading(const char *file, size_t zones)
{
    tdm_reading *reading = calloc(1, sizeof *reading);
    ck_assert_ptr_nonnull(reading);
    reading->file = made_copy(file);
    memset(reading->sha256, 'a', 64);
    reading->width = 4000;
    reading->height = 3000;
    reading->profile = made_copy("sRGB");
    reading->profile_source = TDM_PROFILE_EMBEDDED;
    reading->mm_per_px = 0.1;
    reading->calibration.method = TDM_CALIBRATION_TARGET;
    reading->calibration.before_mean = 6.25;
    reading->calibration.residual_mean = 1.25;
    reading->calibration.residual_max = 3.5;
    reading->calibration.left_out_mean = 1.75;
    reading->calibration.u_lstar = 0.5;
    (void)snprintf(reading->scale.note, sizeof reading->scale.note,
                   "default scale, not calibrated to your swatches");
    reading->usable = true;
    reading->zones = calloc(zones ? zones : 1, sizeof *reading->zones);
    ck_assert_ptr_nonnull(reading->zones);
    reading->zone_count = zones;
    for (size_t i = 0; i < zones; i++) {
        char name[32];
        (void)snprintf(name, sizeof name, "zone %zu", i + 1);
        tdm_zone_reading_init(&reading->zones[i]);
        reading->zones[i].name = made_copy(name);
    }
    tdm_zone_reading_init(&reading->head);
    reading->head.name = made_copy("head");
    return reading;
}

static void made_profile(tdm_profile *profile, double start, double end)
{
    enum { POINTS = 21 };
    profile->points = calloc(POINTS, sizeof *profile->points);
    ck_assert_ptr_nonnull(profile->points);
    profile->count = POINTS;
    for (size_t i = 0; i < POINTS; i++) {
        const double lstar = start + (end - start) * (double)i / (POINTS - 1);
        profile->points[i] = (tdm_profile_point){.along = 10.0 * (double)i, .lab = {lstar, 5, 10}, .u = 0.5};
    }
}

/* 0.3² + 0.4² = 0.5²: u has coverage factor 2. */
static void put_value(struct tdm_zone_reading *zone, tdm_value *where, double value, double u)
{
    const tdm_budget parts = {.part = {[TDM_PART_SAMPLING] = 0.3 * u, [TDM_PART_LIGHT] = 0.4 * u}};
    tdm_put(zone, where, value, &parts);
}

static void made_places(tdm_places *places, double number)
{
    places->items = calloc(2, sizeof *places->items);
    ck_assert_ptr_nonnull(places->items);
    places->count = 2;
    places->items[0] = (tdm_place){number, -21, 3, 4};
    places->items[1] = (tdm_place){number + 2, 31, 5, 6};
}

void made_fill(struct tdm_zone_reading *zone)
{
    size_t count = 0;
    const tdm_figure *figures = tdm_figures(&count);
    for (size_t i = 0; i < count; i++) {
        void *place = (char *)zone + figures[i].offset;
        const double number = (double)i;
        switch (figures[i].kind) {
        case TDM_FIGURE_VALUE:
            put_value(zone, place, number + 0.25, number / 100);
            break;
        case TDM_FIGURE_NUMBER:
            *(double *)place = number + 0.25;
            break;
        case TDM_FIGURE_FLAG:
            *(bool *)place = true;
            break;
        case TDM_FIGURE_WORD:
            *(const char **)place = figures[i].label;
            break;
        case TDM_FIGURE_LAB:
            memcpy(place, (const double[3]){20 + number, number / 10, -number / 10}, 3 * sizeof(double));
            break;
        case TDM_FIGURE_PROFILE:
            made_profile(place, 20, 60);
            break;
        case TDM_FIGURE_VISIBILITY:
            for (size_t k = 0; k < TDM_DISTANCES; k++) {
                ((tdm_visibility *)place)[k].dprime = number + (double)k;
                ((tdm_visibility *)place)[k].u = 0.1 + (double)k;
            }
            break;
        case TDM_FIGURE_PLACES:
            made_places(place, number);
            break;
        }
    }
}

static tdm_area area(double lstar, double a, double b, double level, const char *tone)
{
    return (tdm_area){.lab = {lstar, a, b},
                      .lstar = {.value = lstar, .u = 1.2},
                      .level = {.value = level, .u = 0.3},
                      .tone = tone};
}

void made_regrowth(struct tdm_zone_reading *zone, bool after)
{
    zone->length_mm = 231;
    zone->width_mm = 80;
    zone->used_share = 0.93;
    zone->overall = area(47, 8, 20, 7.8, "gold");
    zone->root = after ? area(32.9, 8, 16, 5.2, "warm") : area(25.7, 6, 9, 4.0, "neutral");
    zone->mid = area(48, 8, 21, 8.0, "gold");
    zone->ends = area(52, 7, 22, 8.5, "gold");
    zone->gradient.shape = "transition";
    zone->gradient.centre_mm = (tdm_value){.value = after ? 36 : 34, .u = 4};
    zone->gradient.width_mm = (tdm_value){.value = after ? 41 : 5, .u = 2};
    zone->gradient.centre_share = (tdm_value){.value = after ? 0.156 : 0.147, .u = 0.017};
    zone->gradient.width_share = (tdm_value){.value = after ? 0.177 : 0.022, .u = 0.009};
    zone->gradient.de00 = (tdm_value){.value = after ? 15.5 : 22.4, .u = 1.1};
    zone->gradient.slope_lstar_per_cm = (tdm_value){.value = after ? 4.1 : 41.7, .u = 2.2};
    made_profile(&zone->gradient.profile, after ? 33 : 24, 52);
    zone->demarcation.grade = after ? "soft" : "hard";
    zone->demarcation.local_width_mm = (tdm_value){.value = after ? 33 : 4, .u = 2};
    zone->demarcation.stagger_mm = (tdm_value){.value = after ? 7.5 : 1.2, .u = 0.8};
    zone->demarcation.course = after ? "broken" : "straight";
    zone->demarcation.slope = (tdm_value){.value = after ? -6 : 1, .u = 2};
    zone->demarcation.gap_count = after ? 2 : 0;
    if (after)
        made_places(&zone->demarcation.gaps, 36);
    zone->demarcation.span = after ? 0.61 : 0.97;
    for (size_t i = 0; i < TDM_DISTANCES; i++)
        zone->demarcation.visibility[i].dprime = after ? 1.2 : 6.5;
    zone->strands.separable = true;
    zone->strands.light_share = (tdm_value){.value = 0.42, .u = 0.05};
    zone->strands.contrast_lstar = (tdm_value){.value = after ? 13.9 : 14.2, .u = 1.0};
    zone->strands.contrast_de00 = (tdm_value){.value = after ? 12.1 : 12.4, .u = 1.0};
    zone->strands.ribbon_median = 3.1;
    zone->strands.spacing_cv = 0.62;
    zone->strands.start_median = 33;
}
