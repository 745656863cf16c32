/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a leap year missed or made up, a month's end off by one, a day that there isn't or another way
 * of writing one taken for a date. */
#include <stdio.h>
#include <string.h>

#include "base/date.h"
#include "suite.h"
#include "tidemark/reading.h"

/* Counts by another program: data/base/days.csv names it. */
START_TEST(counts_as_another_calendar)
{
    char line[256], text[32];
    int days = 0;
    size_t rows = 0;
    FILE *file = fopen(TEST_DATA "/base/days.csv", "r");
    ck_assert_ptr_nonnull(file);
    while (fgets(line, sizeof line, file)) {
        if (sscanf(line, "%10[0-9-],%d", text, &days) != 2)
            continue;
        tdm_date date = {0, 0, 0};
        ck_assert_msg(tdm_date_parse(text, &date), "%s", text);
        ck_assert_msg(tdm_date_number(date) == days, "%s: %d, not %d", text, tdm_date_number(date), days);
        rows++;
    }
    ck_assert_int_eq(fclose(file), 0);
    ck_assert_uint_eq(rows, 49);
}
END_TEST

/* The Julian day of noon, 2000-01-01, is 2451545 by definition (epoch J2000.0), that of 1970-01-01 noon
 * 2440588. */
START_TEST(julian_days)
{
    ck_assert_int_eq(tdm_date_number((tdm_date){2000, 1, 1}), 2451545 - 2440588);
}
END_TEST

/* Every day follows the one before, through a whole cycle of the calendar: 400 years have 146097 days. */
START_TEST(no_day_is_left_out)
{
    int number = tdm_date_number((tdm_date){1600, 1, 1});
    for (int year = 1600; year < 2000; year++) {
        for (int month = 1; month <= 12; month++) {
            for (int day = 1; tdm_date_is_real((tdm_date){year, month, day}); day++)
                ck_assert_int_eq(tdm_date_number((tdm_date){year, month, day}), number++);
        }
    }
    ck_assert_int_eq(number - tdm_date_number((tdm_date){1600, 1, 1}), 146097);
}
END_TEST

static const char *const no_dates[] = {
    "",           "2026",        "2026-3-14",  "2026-03-1",  "26-03-14",         "2026/03/14", "14-03-2026",
    "2026-00-10", "2026-13-10",  "2026-04-31", "2026-02-29", "1900-02-29",       "2100-02-29", "2026-03-00",
    "2026-03-32", "2026-03-14 ", " 2026-03-1", "+026-03-14", "2026-03-14T09:26", "2026-03-1x", "1582-12-31",
    "20260314",   "2026-W11-6",  "2026-073",   "-026-03-14", "2026-03-14Z",      "today",      "0000-00-00"};

START_TEST(refuses_what_is_no_day)
{
    tdm_date date = {1, 2, 3};
    ck_assert_msg(!tdm_date_parse(no_dates[_i], &date), "'%s'", no_dates[_i]);
    ck_assert(!tdm_is_date(no_dates[_i]));
    ck_assert_int_eq(date.year, 1); /* untouched */
    ck_assert_int_eq(date.month, 2);
    ck_assert_int_eq(date.day, 3);
}
END_TEST

START_TEST(leap_days)
{
    ck_assert(tdm_is_date("2024-02-29"));
    ck_assert(tdm_is_date("2000-02-29"));
}
END_TEST

START_TEST(day_of_a_capture)
{
    tdm_date date = {0, 0, 0};
    ck_assert(tdm_date_of_capture("2026-03-14T09:26:53", &date));
    ck_assert_int_eq(date.year, 2026);
    ck_assert_int_eq(date.month, 3);
    ck_assert_int_eq(date.day, 14);
    ck_assert(tdm_date_of_capture("2026-03-15", &date));
    ck_assert_int_eq(date.day, 15);
    ck_assert(!tdm_date_of_capture("2026-03-14 09:26:53", &date));
    ck_assert(!tdm_date_of_capture("2026-02-30T09:26:53", &date));
    ck_assert(!tdm_date_of_capture("", &date));
}
END_TEST

int main(void)
{
    TCase *all = patient_case("date");
    tcase_add_test(all, counts_as_another_calendar);
    tcase_add_test(all, julian_days);
    tcase_add_test(all, no_day_is_left_out);
    tcase_add_loop_test(all, refuses_what_is_no_day, 0, sizeof no_dates / sizeof no_dates[0]);
    tcase_add_test(all, leap_days);
    tcase_add_test(all, day_of_a_capture);
    return run_case("date", all);
}
