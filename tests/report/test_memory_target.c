/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a failed allocation that ends in a crash, a leak, or half a report called whole. Each
 * allocation of every report on a target and on swatches fails once. Cairo's own are out of reach. */
#include <jansson.h>
#include <stdlib.h>
#include <string.h>

#include "failing.h"
#include "measure/swatches_parts.h"
#include "report/made_target.h"
#include "suite.h"
#include "tidemark/report.h"

static tdm_target_reading *target;
static tdm_swatches *swatches;

static const tdm_text_style style = {.colour = true, .truecolour = true, .unicode = true, .width = 80};

static tdm_code target_text(uint8_t **out, tdm_error *error)
{
    return tdm_target_text(target, &style, (char **)(void *)out, error);
}

static tdm_code target_json(uint8_t **out, tdm_error *error)
{
    return tdm_target_json(target, (char **)(void *)out, error);
}

static tdm_code target_overlay(uint8_t **out, tdm_error *error)
{
    size_t size = 0;
    return tdm_target_overlay(target, out, &size, error);
}

static tdm_code swatches_text(uint8_t **out, tdm_error *error)
{
    return tdm_swatches_text(swatches, &style, (char **)(void *)out, error);
}

static tdm_code swatches_json(uint8_t **out, tdm_error *error)
{
    return tdm_swatches_json(swatches, (char **)(void *)out, error);
}

static tdm_code swatches_scale(uint8_t **out, tdm_error *error)
{
    return tdm_swatches_scale(swatches, (char **)(void *)out, error);
}

static tdm_code (*const reports[])(uint8_t **out, tdm_error *error) = {
    target_text, target_json, target_overlay, swatches_text, swatches_json, swatches_scale};

static void make_both(void)
{
    static const double lstars[] = {22, 26, 35};
    tdm_error error = {0};
    fail_allocation(-1);
    json_set_alloc_funcs(__wrap_malloc, free);
    target = made_target();
    ck_assert_int_eq(tdm_warn(&target->warnings, &error, "target-odd", NULL, "made up"), TDM_OK);
    swatches = calloc(1, sizeof *swatches);
    ck_assert_ptr_nonnull(swatches);
    swatches->file = strdup("ring.jpg");
    swatches->profile = strdup("sRGB");
    swatches->count = 3;
    for (size_t i = 0; i < 3; i++)
        swatches->entries[i] =
            (tdm_swatch_entry){.level = (double)i + 3, .lab = {lstars[i], 5, 9}, .u = 1, .rising = true};
    swatches->entries[1].name = strdup("chestnut");
}

static void free_both(void)
{
    fail_allocation(-1);
    tdm_target_reading_free(target);
    tdm_swatches_free(swatches);
}

/* A report with the nth allocation failing; true once there are fewer than n. */
static bool try_with(long nth, size_t report)
{
    tdm_error error = {0};
    uint8_t *out = NULL;
    fail_allocation(nth);
    const tdm_code code = reports[report](&out, &error);
    const bool none_failed = failure_is_due();
    fail_allocation(-1);
    ck_assert_msg(code == (none_failed ? TDM_OK : TDM_ERR_MEMORY), "report %zu, allocation %ld: %d %s",
                  report, nth, code, error.text);
    ck_assert((out != NULL) == none_failed);
    tdm_free(out);
    return none_failed;
}

START_TEST(each_allocation_fails_once)
{
    long nth = 0;
    while (!try_with(nth, (size_t)_i))
        nth++;
    ck_assert_int_ge(nth, 3);
}
END_TEST

int main(void)
{
    TCase *all = patient_case("target memory");
    tcase_add_checked_fixture(all, make_both, free_both);
    tcase_add_loop_test(all, each_allocation_fails_once, 0, sizeof reports / sizeof reports[0]);
    return run_case("target memory", all);
}
