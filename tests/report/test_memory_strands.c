/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a failed allocation that ends in a crash, a leak, or a picture with a part missing. Each
 * allocation of the picture of strands, of a skip map and of the way back to the photograph fails once.
 * Cairo's own are out of reach. */
#include <stdlib.h>

#include "failing.h"
#include "report/made_strands.h"
#include "suite.h"

static tdm_reading *reading;
static tdm_strand_view *view;
static float grey[3 * 16] = {0};
static uint8_t use[16] = {1};

static tdm_code picture(void **out, tdm_error *error)
{
    const tdm_strand_view *const views[] = {view};
    size_t size = 0;
    return tdm_strand_picture(views, 1, (uint8_t **)(void *)out, &size, error);
}

static tdm_code by_level(void **out, tdm_error *error)
{
    const tdm_strip strip = {.rows = 4, .cols = 4, .cell = 0.25, .xyz = grey, .use = use};
    tdm_skip_map map = {0};
    const tdm_code code = tdm_skip_by_level(&strip, &reading->scale, 8, 0.5, &map, error);
    *out = map.state;
    return code;
}

static tdm_code by_strands(void **out, tdm_error *error)
{
    tdm_skip_map map = {0};
    const tdm_code code = tdm_skip_by_strands(&reading->zones[0], &map, error);
    *out = map.state;
    return code;
}

static tdm_code (*const works[])(void **out, tdm_error *error) = {picture, by_level, by_strands};

static void open_view(void)
{
    fail_allocation(-1);
    reading = made_strands_reading();
    view = made_strands(reading, true);
}

static void close_view(void)
{
    fail_allocation(-1);
    tdm_strand_view_free(view);
    tdm_reading_free(reading);
}

/* With the nth allocation failing; true once there are fewer than n. */
static bool try_with(long nth, size_t work)
{
    tdm_error error = {0};
    void *out = NULL;
    fail_allocation(nth);
    const tdm_code code = works[work](&out, &error);
    const bool none_failed = failure_is_due();
    fail_allocation(-1);
    ck_assert_msg(code == (none_failed ? TDM_OK : TDM_ERR_MEMORY), "work %zu, allocation %ld: %d %s", work,
                  nth, code, error.text);
    ck_assert((out != NULL) == none_failed);
    tdm_free(out);
    return none_failed;
}

START_TEST(each_allocation_fails_once)
{
    long nth = 0;
    while (!try_with(nth, (size_t)_i))
        nth++;
    ck_assert_int_ge(nth, 1);
}
END_TEST

int main(void)
{
    TCase *all = patient_case("strands memory");
    tcase_add_checked_fixture(all, open_view, close_view);
    tcase_add_loop_test(all, each_allocation_fails_once, 0, sizeof works / sizeof works[0]);
    return run_case("strands memory", all);
}
