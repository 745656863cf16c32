/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: overlong forms, surrogates or numbers past Unicode's end taken for characters, a good one
 * refused or read as another. Cases from Unicode 15.0, table 3-7. */
#include "base/utf8.h"
#include "suite.h"

static const struct {
    const char *bytes;
    size_t length;
    uint32_t point;
} cases[] = {
    {"A", 1, 'A'},
    {"\xC2\x80", 2, 0x80},
    {"\xDF\xBF", 2, 0x7FF},
    {"\xE0\xA0\x80", 3, 0x800},
    {"\xED\x9F\xBF", 3, 0xD7FF},
    {"\xEE\x80\x80", 3, 0xE000},
    {"\xF0\x90\x80\x80", 4, 0x10000},
    {"\xF4\x8F\xBF\xBF", 4, 0x10FFFF},
    {"\x80", 0, 0},             /* a follower alone */
    {"\xC1\xBF", 0, 0},         /* overlong */
    {"\xE0\x9F\xBF", 0, 0},     /* overlong */
    {"\xF0\x8F\xBF\xBF", 0, 0}, /* overlong */
    {"\xED\xA0\x80", 0, 0},     /* surrogate */
    {"\xF4\x90\x80\x80", 0, 0}, /* past the end */
    {"\xF5\x80\x80\x80", 0, 0},
    {"\xE2\x82", 0, 0}, /* cut short */
    {"\xFF", 0, 0},
};

START_TEST(well_formed_or_not)
{
    uint32_t point = 0;
    ck_assert_uint_eq(tdm_utf8_decode(cases[_i].bytes, &point), cases[_i].length);
    ck_assert_uint_eq(point, cases[_i].point);
}
END_TEST

int main(void)
{
    TCase *all = patient_case("utf8");
    tcase_add_loop_test(all, well_formed_or_not, 0, sizeof cases / sizeof cases[0]);
    return run_case("utf8", all);
}
