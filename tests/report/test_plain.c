/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a zone name that steers the terminal, bytes that aren't UTF-8 in JSON, digits lost or made up.
 */
#include <math.h>
#include <string.h>

#include "report/plain.h"
#include "suite.h"

static const struct {
    double value;
    const char *text;
} numbers[] = {
    {0, "0"},
    {-0.0, "0"},
    {1, "1"},
    {-1.5, "-1.5"},
    {0.1, "0.1"},
    {1.0 / 3, "0.333333"},
    {200.0 / 3, "66.6667"},
    {123456.7, "123457"},
    {1234567, "1234567"},
    {0.000123456789, "0.000123457"},
    {9.999999, "10"},
    {100, "100"},
    {1e-30, "0"},
    {NAN, ""},
    {INFINITY, ""},
    {-INFINITY, ""},
};

START_TEST(numbers_have_six_digits)
{
    tdm_text text = {0};
    tdm_add_short(&text, numbers[_i].value);
    ck_assert_str_eq(text.data ? text.data : "", numbers[_i].text);
    ck_assert(!text.failed);
    tdm_text_free(&text);
}
END_TEST

static const struct {
    const char *from, *valid, *unicode, *ascii;
} strings[] = {
    {"left panel", "left panel", "left panel", "left panel"},
    {"a\x1b[31m\n\tb", "a\x1b[31m\n\tb", "a?[31m??b", "a?[31m??b"},
    {"gr\u00F6n \u4E2D", "gr\u00F6n \u4E2D", "gr\u00F6n \u4E2D", "gr?n ?"},
    {"\xC2\x85\u202Eevil", "\xC2\x85\u202Eevil", "??evil", "??evil"}, /* C1 control, right-to-left override */
    {"\xff\xfe", "\uFFFD\uFFFD", "\uFFFD\uFFFD", "??"},
    {"\xc0\xaf", "\uFFFD\uFFFD", "\uFFFD\uFFFD", "??"},                                   /* overlong */
    {"\xed\xa0\x80", "\uFFFD\uFFFD\uFFFD", "\uFFFD\uFFFD\uFFFD", "???"},                  /* surrogate */
    {"\xf4\x90\x80\x80", "\uFFFD\uFFFD\uFFFD\uFFFD", "\uFFFD\uFFFD\uFFFD\uFFFD", "????"}, /* past U+10FFFF */
    {"x\xe4", "x\uFFFD", "x\uFFFD", "x?"},                                                /* cut short */
    {"\U0001F600", "\U0001F600", "\U0001F600", "?"},
};

START_TEST(strings_are_made_fit)
{
    tdm_text valid = {0}, unicode = {0}, ascii = {0};
    tdm_add_valid(&valid, strings[_i].from);
    tdm_add_printable(&unicode, strings[_i].from, true);
    tdm_add_printable(&ascii, strings[_i].from, false);
    ck_assert_str_eq(valid.data, strings[_i].valid);
    ck_assert_str_eq(unicode.data, strings[_i].unicode);
    ck_assert_str_eq(ascii.data, strings[_i].ascii);
    tdm_text_free(&valid);
    tdm_text_free(&unicode);
    tdm_text_free(&ascii);
}
END_TEST

START_TEST(columns_are_code_points)
{
    static const char string[] = "4.0 \u00B1 0.3 \u2588";
    ck_assert_uint_eq(tdm_columns(string, strlen(string)), 11);
    ck_assert_uint_eq(tdm_columns("", 0), 0);
}
END_TEST

int main(void)
{
    TCase *tests = patient_case("plain");
    tcase_add_loop_test(tests, numbers_have_six_digits, 0, (int)(sizeof numbers / sizeof numbers[0]));
    tcase_add_loop_test(tests, strings_are_made_fit, 0, (int)(sizeof strings / sizeof strings[0]));
    tcase_add_test(tests, columns_are_code_points);
    return run_case("plain", tests);
}
