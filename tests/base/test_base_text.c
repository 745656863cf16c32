/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break if numbers took the locale's decimal comma, or text were lost while growing. */
#include <locale.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/text.h"
#include "suite.h"

static void check_number(double value, int digits, const char *want)
{
    tdm_text text = {0};
    tdm_text_number(&text, value, digits, "none");
    ck_assert_str_eq(text.data, want);
    tdm_text_free(&text);
}

static void check_numbers(void)
{
    check_number(1.25, 1, "1.2"); /* half to even, as the C library rounds an exact half */
    check_number(-3.5, 2, "-3.50");
    check_number(1234567.875, 3, "1234567.875");
    check_number(42, 0, "42");
    check_number(-0.04, 1, "0.0");
    check_number(-0.0, 2, "0.00");
    check_number(-0.05000001, 1, "-0.1");
    check_number(NAN, 1, "none");
    check_number(INFINITY, 1, "none");
    check_number(-INFINITY, 1, "none");
}

START_TEST(numbers)
{
    check_numbers();
}
END_TEST

/* The largest double has 309 digits before the point. */
START_TEST(huge_number)
{
    tdm_text text = {0};
    tdm_text_number(&text, -1.7976931348623157e308, 6, "none");
    ck_assert_uint_eq(text.size, 1 + 309 + 1 + 6);
    ck_assert(!text.failed);
    tdm_text_free(&text);
}
END_TEST

static bool set_comma_locale(void)
{
    static const char *const names[] = {"de_DE.UTF-8", "de_DE", "fr_FR.UTF-8", "sv_SE.UTF-8"};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        if (setlocale(LC_ALL, names[i]) && strcmp(localeconv()->decimal_point, ",") == 0)
            return true;
    }
    return false;
}

START_TEST(decimal_comma)
{
    if (!set_comma_locale()) {
        printf("no locale with a decimal comma on this machine: the part that needs one is skipped\n");
        return;
    }
    char sure[16];
    (void)snprintf(sure, sizeof sure, "%.1f", 0.5);
    ck_assert_str_eq(sure, "0,5"); /* the locale is in force */
    check_numbers();
}
END_TEST

START_TEST(growing)
{
    tdm_text text = {0};
    ck_assert_ptr_null(text.data);
    for (int i = 0; i < 1000; i++) {
        tdm_text_add(&text, "ab");
        tdm_text_add_bytes(&text, "cdefg", 1);
        tdm_text_format(&text, "%03d", i);
    }
    ck_assert(!text.failed);
    ck_assert_uint_eq(text.size, 6000);
    ck_assert_uint_eq(strlen(text.data), 6000);
    for (int i = 0; i < 1000; i++) {
        char want[8];
        (void)snprintf(want, sizeof want, "abc%03d", i);
        ck_assert_mem_eq(text.data + 6 * i, want, 6);
    }
    tdm_text_free(&text);
    ck_assert_ptr_null(text.data);
    ck_assert_uint_eq(text.size, 0);
}
END_TEST

/* After a failure nothing is added, and nothing that was there is spoilt. */
START_TEST(failure_stays)
{
    tdm_text text = {0};
    tdm_text_add(&text, "kept");
    tdm_text_add_bytes(&text, "x", (size_t)-1);
    ck_assert(text.failed);
    tdm_text_add(&text, "more");
    tdm_text_format(&text, "%d", 1);
    tdm_text_number(&text, 1, 1, "");
    ck_assert(text.failed);
    ck_assert_str_eq(text.data, "kept");
    tdm_text_free(&text);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {numbers, huge_number, decimal_comma, growing, failure_stays, NULL};
    return run_suite("base text", tests);
}
