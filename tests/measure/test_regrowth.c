/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a month of another length, the published range moved, a colour of tomorrow believed, growth
 * told where there is no line, no scale or no date, an uncertainty that leaves the dates out. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "compare/made_reading.h"
#include "measure/budget.h"
#include "measure/regrowth.h"
#include "suite.h"

static tdm_reading *reading;
static struct tdm_zone_reading *zone;

/* A hard line at 34 mm: sampling 0.3, scale 0.4 mm. */
static void make_one(void)
{
    reading = made_reading("hair.jpg", 1);
    zone = &reading->zones[0];
    made_regrowth(zone, false);
    const tdm_budget parts = {.part = {[TDM_PART_SAMPLING] = 0.3, [TDM_PART_SCALE] = 0.4}};
    tdm_put(zone, &zone->gradient.centre_mm, 34, &parts);
}

static void free_one(void)
{
    tdm_reading_free(reading);
}

static void measure(double days)
{
    tdm_error error = {0};
    ck_assert_int_eq(tdm_regrowth_measure(days, zone, &reading->warnings, &error), TDM_OK);
}

static void check_null(bool length_too)
{
    ck_assert(isnan(zone->regrowth.mm_per_month.value));
    ck_assert_ptr_null(zone->regrowth.pace);
    if (length_too) {
        ck_assert(isnan(zone->regrowth.length_mm.value));
        ck_assert(isnan(zone->regrowth.days));
    }
}

static const char *warning_text(const char *code)
{
    for (size_t i = 0; i < reading->warnings.count; i++) {
        if (strcmp(reading->warnings.items[i].code, code) == 0)
            return reading->warnings.items[i].text;
    }
    ck_abort_msg("no warning %s", code);
    return NULL;
}

/* By hand: 34 mm in 92 days of which 30.44 are a month: 34 * 30.44 / 92 = 11.24957. Standard uncertainties:
 * 0.3 and 0.4 mm times 0.330870 a month, and for the date 11.24957 * 0.288675 / 92 = 0.035298. Twice the root
 * of 0.099261^2 + 0.132348^2 + 0.035298^2 is 0.338310. */
START_TEST(growth_by_hand)
{
    tdm_budget parts;
    measure(92);
    ck_assert_double_eq_tol(zone->regrowth.length_mm.value, 34, 1e-9);
    ck_assert_double_eq_tol(zone->regrowth.length_mm.u, 1, 1e-9);
    ck_assert_double_eq_tol(zone->regrowth.days, 92, 0.5);
    ck_assert_double_eq_tol(zone->regrowth.mm_per_month.value, 11.24957, 1e-5); /* mm: digits of the sum */
    ck_assert_double_eq_tol(zone->regrowth.mm_per_month.u, 0.338310, 1e-5);
    ck_assert_str_eq(zone->regrowth.pace, "usual");
    ck_assert(tdm_zone_budget(zone, tdm_figure_find("regrowth.mm_per_month"), &parts));
    ck_assert_double_eq_tol(parts.part[TDM_PART_SAMPLING], 0.099261, 1e-5);
    ck_assert_double_eq_tol(parts.part[TDM_PART_SCALE], 0.132348, 1e-5);
    ck_assert_double_eq_tol(parts.part[TDM_PART_DATE], 0.035298, 1e-5);
    ck_assert_uint_eq(reading->warnings.count, 0);
}
END_TEST

/* 34 mm in 61 days are 16.97 a month, in 200 days 5.17. */
START_TEST(out_of_range_is_said)
{
    measure(61);
    ck_assert_str_eq(zone->regrowth.pace, "fast");
    ck_assert_ptr_nonnull(strstr(warning_text("regrowth-out-of-range"), "17.0 mm a month, faster"));
    free_one();
    make_one();
    measure(200);
    ck_assert_str_eq(zone->regrowth.pace, "slow");
    ck_assert_ptr_nonnull(strstr(warning_text("regrowth-out-of-range"), "5.2 mm a month, slower"));
}
END_TEST

START_TEST(too_soon_for_a_pace)
{
    measure(13);
    check_null(false);
    ck_assert_double_eq_tol(zone->regrowth.length_mm.value, 34, 1e-9);
    measure(14);
    ck_assert_str_eq(zone->regrowth.pace, "fast");
}
END_TEST

START_TEST(nothing_asked_nothing_said)
{
    measure(NAN);
    check_null(true);
    ck_assert_uint_eq(reading->warnings.count, 0);
}
END_TEST

START_TEST(no_line_no_growth)
{
    zone->demarcation.grade = "none";
    measure(92);
    check_null(true);
    ck_assert_str_eq(reading->warnings.items[0].zone, "zone 1");
    (void)warning_text("regrowth-no-line");
    zone->demarcation.grade = "hard";
    zone->gradient.shape = "ramp";
    measure(92);
    check_null(true);
}
END_TEST

/* The reading says elsewhere that there is no scale. */
START_TEST(no_scale_no_growth)
{
    zone->length_mm = zone->gradient.centre_mm.value = NAN;
    measure(92);
    check_null(true);
    ck_assert_uint_eq(reading->warnings.count, 0);
}
END_TEST

static tdm_code note(const char *exif, const char *coloured_on, const char *taken_on, tdm_error *error)
{
    tdm_read_options options = tdm_read_options_default();
    options.coloured_on = coloured_on;
    options.taken_on = taken_on;
    (void)snprintf(reading->taken, sizeof reading->taken, "%s", exif);
    return tdm_regrowth_dates(&options, "hair.jpg", reading, error);
}

/* December has 31 days, and 2026 no leap day: 30 + 31 + 28 + 1. */
START_TEST(days_between)
{
    tdm_error error = {0};
    tdm_photo_facts facts;
    ck_assert_int_eq(note("2026-03-02T00:10:00", "2025-12-02", NULL, &error), TDM_OK);
    ck_assert_double_eq_tol(reading->days, 90, 0.5);
    tdm_reading_photo(reading, &facts);
    ck_assert_str_eq(facts.taken, "2026-03-02T00:10:00");
    ck_assert_str_eq(facts.taken_source, "exif");
    ck_assert_str_eq(facts.coloured_on, "2025-12-02");
    ck_assert_uint_eq(reading->warnings.count, 0);
}
END_TEST

START_TEST(a_given_day_comes_first)
{
    tdm_error error = {0};
    tdm_photo_facts facts;
    ck_assert_int_eq(note("2001-01-01T00:00:00", "2025-12-02", "2025-12-31", &error), TDM_OK);
    ck_assert_double_eq_tol(reading->days, 29, 0.5);
    tdm_reading_photo(reading, &facts);
    ck_assert_str_eq(facts.taken, "2025-12-31");
    ck_assert_str_eq(facts.taken_source, "given");
}
END_TEST

START_TEST(no_capture_time)
{
    tdm_error error = {0};
    tdm_photo_facts facts;
    ck_assert_int_eq(note("", "2025-12-02", NULL, &error), TDM_OK);
    ck_assert(isnan(reading->days));
    (void)warning_text("no-date");
    tdm_reading_photo(reading, &facts);
    ck_assert_ptr_null(facts.taken_source);
}
END_TEST

START_TEST(a_colour_after_the_photograph)
{
    tdm_error error = {0};
    ck_assert_int_eq(note("2026-03-02T23:59:59", "2026-03-02", NULL, &error), TDM_OK);
    ck_assert_double_eq_tol(reading->days, 0, 0.5);
    ck_assert_ptr_nonnull(strstr(warning_text("regrowth-too-soon"), "0 days old"));
    ck_assert_int_eq(note("2026-03-02T23:59:59", "2026-03-03", NULL, &error), TDM_ERR_USAGE);
    ck_assert_str_eq(error.place, "coloured-on");
    ck_assert_ptr_nonnull(strstr(error.text, "2026-03-03 is after the day of the photograph, 2026-03-02"));
}
END_TEST

START_TEST(dates_that_are_none)
{
    tdm_read_options options = tdm_read_options_default();
    tdm_error error = {0};
    ck_assert_int_eq(tdm_regrowth_check(&options, &error), TDM_OK);
    options.coloured_on = "2026-02-29";
    ck_assert_int_eq(tdm_regrowth_check(&options, &error), TDM_ERR_USAGE);
    ck_assert_str_eq(error.place, "coloured-on");
    options.coloured_on = "2024-02-29";
    options.taken_on = "yesterday";
    ck_assert_int_eq(tdm_regrowth_check(&options, &error), TDM_ERR_USAGE);
    ck_assert_str_eq(error.place, "taken-on");
}
END_TEST

static const char *pace(double mm_per_month, double u)
{
    return tdm_growth_pace((tdm_value){mm_per_month, u});
}

/* The range and the rates of growth as published: data/measure/hair_growth.csv. Means of groups lie within
 * the range, which is rounded to 0.1 cm: half of that is their u here. The slowest of one group's people is
 * slow. */
START_TEST(published_rates)
{
    char line[512], group[64];
    double least = 0, most = 0;
    size_t means = 0;
    FILE *file = fopen(TEST_DATA "/measure/hair_growth.csv", "r");
    ck_assert_ptr_nonnull(file);
    while (fgets(line, sizeof line, file)) {
        if (sscanf(line, "growth_rate,%63[^,],%lf-%lf", group, &least, &most) == 3) {
            const bool cm = strstr(line, ",cm/month,") != NULL;
            if (cm) {
                ck_assert_double_eq_tol(tdm_usual_slowest, 10 * least, 1e-9);
                ck_assert_double_eq_tol(tdm_usual_fastest, 10 * most, 1e-9);
            } else {
                ck_assert_str_eq(pace(tdm_growth_rate(0.001 * least, 1), 0.5), "slow");
                ck_assert_str_eq(pace(tdm_growth_rate(0.001 * most, 1), 0.5), "usual");
            }
            means += cm ? 100 : 10;
        } else if (sscanf(line, "growth_rate,%63[^,],%lf", group, &least) == 2) {
            ck_assert_ptr_nonnull(strstr(line, ",um/day,"));
            ck_assert_msg(strcmp(pace(tdm_growth_rate(0.001 * least, 1), 0.5), "usual") == 0, "%s", group);
            means++;
        }
    }
    ck_assert_int_eq(fclose(file), 0);
    ck_assert_uint_eq(means, 115); /* five means, one range of people, one of groups */
}
END_TEST

START_TEST(the_range_is_widened_by_u)
{
    ck_assert_str_eq(pace(8, 0), "usual");
    ck_assert_str_eq(pace(7.9, 0), "slow");
    ck_assert_str_eq(pace(7.9, 0.2), "usual");
    ck_assert_str_eq(pace(13, 0), "usual");
    ck_assert_str_eq(pace(13.1, 0), "fast");
    ck_assert_str_eq(pace(13.1, 0.2), "usual");
    ck_assert_str_eq(pace(-3, 2), "slow");
    ck_assert_ptr_null(pace(10, NAN));
    ck_assert_ptr_null(pace(NAN, 1));
}
END_TEST

int main(void)
{
    TCase *tests = patient_case("regrowth");
    tcase_add_checked_fixture(tests, make_one, free_one);
    const TTest *const all[] = {growth_by_hand,
                                out_of_range_is_said,
                                too_soon_for_a_pace,
                                nothing_asked_nothing_said,
                                no_line_no_growth,
                                no_scale_no_growth,
                                days_between,
                                a_given_day_comes_first,
                                no_capture_time,
                                a_colour_after_the_photograph,
                                dates_that_are_none,
                                published_rates,
                                the_range_is_widened_by_u};
    for (size_t i = 0; i < sizeof all / sizeof all[0]; i++)
        tcase_add_test(tests, all[i]);
    return run_case("regrowth", tests);
}
