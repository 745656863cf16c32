/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break if a warning were lost, or its words outlived by those it was made from. */
#include <string.h>

#include "base/warnings.h"
#include "suite.h"

START_TEST(many_in_order)
{
    tdm_warnings warnings = {0};
    tdm_error error;
    for (int i = 0; i < 100; i++) {
        char zone[16];
        (void)snprintf(zone, sizeof zone, "zone %d", i);
        ck_assert_int_eq(tdm_warn(&warnings, &error, "some-code", i % 2 ? zone : NULL, "number %d", i),
                         TDM_OK);
    }
    ck_assert_uint_eq(warnings.count, 100);
    for (int i = 0; i < 100; i++) {
        char text[16], zone[16];
        (void)snprintf(text, sizeof text, "number %d", i);
        (void)snprintf(zone, sizeof zone, "zone %d", i);
        ck_assert_str_eq(warnings.items[i].code, "some-code");
        ck_assert_str_eq(warnings.items[i].text, text);
        if (i % 2)
            ck_assert_str_eq(warnings.items[i].zone, zone);
        else
            ck_assert_ptr_null(warnings.items[i].zone);
    }
    tdm_warnings_free(&warnings);
    ck_assert_uint_eq(warnings.count, 0);
    ck_assert_ptr_null(warnings.items);
}
END_TEST

START_TEST(have)
{
    tdm_warnings warnings = {0};
    tdm_error error;
    ck_assert(!tdm_warnings_have(&warnings, "a"));
    ck_assert_int_eq(tdm_warn(&warnings, &error, "ab", NULL, "text"), TDM_OK);
    ck_assert(tdm_warnings_have(&warnings, "ab"));
    ck_assert(!tdm_warnings_have(&warnings, "a"));
    tdm_warnings_free(&warnings);
}
END_TEST

START_TEST(long_text_is_cut)
{
    tdm_warnings warnings = {0};
    tdm_error error;
    char text[3000];
    memset(text, 'x', sizeof text - 1);
    text[sizeof text - 1] = '\0';
    ck_assert_int_eq(tdm_warn(&warnings, &error, "a", NULL, "%s", text), TDM_OK);
    ck_assert_uint_eq(strlen(warnings.items[0].text), 511);
    tdm_warnings_free(&warnings);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {many_in_order, have, long_text_is_cut, NULL};
    return run_suite("base warnings", tests);
}
