/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break if an error lost its words, overran its room or ended with the wrong exit status. */
#include <string.h>

#include "base/fail.h"
#include "suite.h"

/* The documented statuses: 0 done, 1 unusable, 2 wrong use, 3 bad input, 4 system fault. */
START_TEST(exit_statuses)
{
    static const struct {
        tdm_code code;
        int status;
    } rows[] = {{TDM_OK, 0},         {TDM_ERR_UNUSABLE, 1},   {TDM_ERR_USAGE, 2},
                {TDM_ERR_FORMAT, 3}, {TDM_ERR_UNREADABLE, 3}, {TDM_ERR_UNSUPPORTED, 3},
                {TDM_ERR_LIMIT, 3},  {TDM_ERR_MEMORY, 4},     {TDM_ERR_SYSTEM, 4}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        ck_assert_int_eq(tdm_exit_status(rows[i].code), rows[i].status);
    ck_assert_int_eq(tdm_exit_status((tdm_code)999), 4);
}
END_TEST

START_TEST(filled)
{
    tdm_error error;
    ck_assert_int_eq(tdm_fail(&error, TDM_ERR_LIMIT, "a.jpg", "zones[1]", "%d is more than %d", 7, 6),
                     TDM_ERR_LIMIT);
    ck_assert_int_eq(error.code, TDM_ERR_LIMIT);
    ck_assert_str_eq(error.file, "a.jpg");
    ck_assert_str_eq(error.place, "zones[1]");
    ck_assert_str_eq(error.text, "7 is more than 6");
}
END_TEST

START_TEST(absent_parts)
{
    tdm_error error;
    ck_assert_int_eq(tdm_fail(NULL, TDM_ERR_USAGE, "a", "b", "c"), TDM_ERR_USAGE);
    ck_assert_int_eq(tdm_fail(&error, TDM_ERR_USAGE, NULL, NULL, "c"), TDM_ERR_USAGE);
    ck_assert_str_eq(error.file, "");
    ck_assert_str_eq(error.place, "");
    ck_assert_int_eq(tdm_fail_memory(&error, "a.png"), TDM_ERR_MEMORY);
    ck_assert_str_eq(error.file, "a.png");
    ck_assert_int_gt((int)strlen(error.text), 0);
}
END_TEST

START_TEST(cut_when_too_long)
{
    char text[2000];
    tdm_error error;
    memset(text, 'x', sizeof text - 1);
    text[sizeof text - 1] = '\0';
    (void)tdm_fail(&error, TDM_ERR_FORMAT, text, text, "%s", text);
    ck_assert_uint_eq(strlen(error.file), sizeof error.file - 1);
    ck_assert_uint_eq(strlen(error.place), sizeof error.place - 1);
    ck_assert_uint_eq(strlen(error.text), sizeof error.text - 1);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {exit_statuses, filled, absent_parts, cut_when_too_long, NULL};
    return run_suite("base error", tests);
}
