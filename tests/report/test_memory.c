/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a failed allocation that ends in a crash, a leak, or half a report called whole. Each
 * allocation of a comparison and of every report fails once; the linker's --wrap and jansson's hooks put the
 * failure in. */
#include <jansson.h>
#include <stdlib.h>
#include <string.h>

#include "compare/made_reading.h"
#include "failing.h"
#include "suite.h"
#include "tidemark/report.h"

typedef tdm_code (*report)(const tdm_comparison *comparison, char **out, tdm_error *error);

static tdm_code as_text(const tdm_comparison *comparison, char **out, tdm_error *error)
{
    const tdm_text_style style = {.colour = true, .truecolour = true, .unicode = true, .width = 80};
    return tdm_comparison_text(comparison, &style, out, error);
}

static const report reports[] = {tdm_comparison_json, tdm_comparison_csv, as_text};

static tdm_reading *before, *after;

static void make_two(void)
{
    fail_allocation(-1);
    json_set_alloc_funcs(__wrap_malloc, free);
    before = made_reading("before.jpg", 3);
    after = made_reading("after.jpg", 3);
    strcpy(before->taken, "2026-01-05"); /* so that growth is told, and flagged as slow */
    strcpy(after->taken, "2026-03-06");
    made_regrowth(&before->zones[2], false);
    made_regrowth(&after->zones[2], false);
    after->zones[1].name[0] = 'Z';
    made_regrowth(&before->zones[0], false);
    made_regrowth(&after->zones[0], true);
    made_fill(&before->head);
    made_fill(&after->head);
}

static void free_two(void)
{
    fail_allocation(-1);
    tdm_reading_free(before);
    tdm_reading_free(after);
}

/* Both steps with the nth allocation failing; true once there are fewer than n. */
static bool try_with(long nth, report write)
{
    tdm_comparison *comparison = NULL;
    tdm_error error = {0};
    char *text = NULL;
    fail_allocation(nth);
    tdm_code code = tdm_compare(before, after, &comparison, &error);
    if (code == TDM_OK)
        code = write(comparison, &text, &error);
    const bool none_failed = failure_is_due();
    fail_allocation(-1);
    if (none_failed) {
        ck_assert_int_eq(code, TDM_OK);
        ck_assert_uint_gt(strlen(text), 1000);
    } else {
        ck_assert_msg(code == TDM_ERR_MEMORY, "allocation %ld: code %d", nth, (int)code);
        ck_assert_int_eq(error.code, TDM_ERR_MEMORY);
        ck_assert_ptr_null(text);
    }
    tdm_free(text);
    tdm_comparison_free(comparison);
    return none_failed;
}

START_TEST(every_allocation_may_fail)
{
    long nth = 0;
    while (!try_with(nth, reports[_i]))
        nth++;
    ck_assert_int_gt(nth, 10);
}
END_TEST

int main(void)
{
    TCase *tests = patient_case("memory");
    tcase_add_checked_fixture(tests, make_two, free_two);
    tcase_add_loop_test(tests, every_allocation_may_fail, 0, (int)(sizeof reports / sizeof reports[0]));
    return run_case("memory", tests);
}
