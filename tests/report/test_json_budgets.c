/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: an uncertainty whose components don't add up to it, or that none are given for. */
#include <math.h>

#include "compare/made_reading.h"
#include "measure/budget.h"
#include "report/parsed_json.h"
#include "suite.h"

/* Twice the root of the sum of the components' squares is u, for each figure that has one. */
START_TEST(budgets_come_back)
{
    tdm_reading *reading = made_reading("before.jpg", 1);
    made_fill(&reading->zones[0]);
    json_t *root = reading_json(reading), *zone = json_array_get(at(root, "zones"), 0);
    json_t *budgets = json_object_get(zone, "budget"), *part = NULL;
    size_t count = 0, found = 0;
    const tdm_figure *figures = tdm_figures(&count);
    for (size_t i = 0; i < count; i++) {
        json_t *parts = json_object_get(budgets, figures[i].path);
        ck_assert_int_eq(parts != NULL, figures[i].kind == TDM_FIGURE_VALUE);
        if (!parts)
            continue;
        double squares = 0;
        const char *name = NULL;
        json_object_foreach(parts, name, part) squares += json_number_value(part) * json_number_value(part);
        const double u = json_number_value(json_object_get(at(zone, figures[i].path), "u"));
        ck_assert_double_eq_tol(2 * sqrt(squares), u, 4 * rounding * fmax(1, u));
        found++;
    }
    ck_assert_uint_eq(json_object_size(budgets), found);
    ck_assert_uint_gt(found, 10);
    json_decref(root);
    tdm_reading_free(reading);
}
END_TEST

/* The head has its own; and rounding left over by the arithmetic is no figure. */
START_TEST(budget_of_the_head)
{
    tdm_reading *reading = made_reading("before.jpg", 2);
    const tdm_budget parts = {.part = {[TDM_PART_SAMPLING] = 1.5,
                                       [TDM_PART_SCALE] = 2,
                                       [TDM_PART_PLANE] = 5.5e-14,
                                       [TDM_PART_GLOSS] = 2e-6,
                                       [TDM_PART_LIGHT] = -2.2e-14}};
    tdm_put(&reading->head, &reading->head.gradient.width_mm, 40, &parts);
    json_t *root = reading_json(reading);
    json_t *found = json_object_get(at(root, "head.budget"), "gradient.width_mm");
    check_number(at(found, "sampling"), 1.5);
    check_number(at(found, "scale"), 2);
    ck_assert_double_eq(json_real_value(at(found, "plane")), 0);
    ck_assert_double_eq(json_real_value(at(found, "light")), 0);
    ck_assert_double_eq_tol(json_real_value(at(found, "gloss")), 2e-6, 1e-11);
    json_decref(root);
    tdm_reading_free(reading);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {budgets_come_back, budget_of_the_head, NULL};
    return run_suite("json budgets", tests);
}
