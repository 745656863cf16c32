/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a failed allocation that ends in a crash, a leak, or half a report called whole. Each
 * allocation of every report on a plan, and of its words and its hair, fails once. Cairo's own are out of
 * reach. */
#include <jansson.h>
#include <stdlib.h>
#include <string.h>

#include "failing.h"
#include "measure/reading_parts.h"
#include "report/made_plan.h"
#include "suite.h"
#include "tidemark/report.h"

static tdm_plan *plan;

static const tdm_text_style style = {.colour = true, .truecolour = true, .unicode = true, .width = 80};

static tdm_code text(uint8_t **out, tdm_error *error)
{
    return tdm_plan_text(plan, &style, (char **)(void *)out, error);
}

static tdm_code json(uint8_t **out, tdm_error *error)
{
    return tdm_plan_json(plan, (char **)(void *)out, error);
}

static tdm_code map(uint8_t **out, tdm_error *error)
{
    size_t size = 0;
    return tdm_plan_map(plan, out, &size, error);
}

static tdm_code summary(uint8_t **out, tdm_error *error)
{
    free(plan->summary);
    plan->summary = NULL;
    const tdm_code code = tdm_plan_put_in_order(plan, error);
    *out = (uint8_t *)plan->summary;
    plan->summary = NULL;
    return code;
}

static tdm_code words(uint8_t **out, tdm_error *error)
{
    tdm_planned_zone zone = plan->zones[0];
    zone.about.why = zone.about.blend = zone.about.leave = NULL;
    const tdm_code code = tdm_plan_say(&plan->reading->zones[0], &plan->reading->scale, &zone, error);
    free((char *)zone.about.blend);
    free((char *)zone.about.leave);
    if (code != TDM_OK)
        free((char *)zone.about.why);
    else
        *out = (uint8_t *)zone.about.why;
    return code;
}

static tdm_code coarser(uint8_t **out, tdm_error *error)
{
    tdm_hair hair = {0};
    const tdm_code code = tdm_hair_coarser(&plan->zones[0].hair, 2, &hair, error);
    *out = hair.strip.use; /* stands for the whole */
    hair.strip.use = NULL;
    tdm_hair_free(&hair);
    return code;
}

static tdm_code (*const reports[])(uint8_t **out, tdm_error *error) = {text,    json,  map,
                                                                       summary, words, coarser};

static void open_plan(void)
{
    fail_allocation(-1);
    json_set_alloc_funcs(__wrap_malloc, free);
    plan = made_plan();
    plan->reading->scale = tdm_level_scale_default();
}

static void close_plan(void)
{
    fail_allocation(-1);
    tdm_plan_free(plan);
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
    TCase *all = patient_case("plan memory");
    tcase_add_checked_fixture(all, open_plan, close_plan);
    tcase_add_loop_test(all, each_allocation_fails_once, 0, sizeof reports / sizeof reports[0]);
    return run_case("plan memory", all);
}
