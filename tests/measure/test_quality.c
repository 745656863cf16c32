/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a figure without its words, two that can't be told apart, a bound that isn't kept, a figure
 * that warns though it is only stated. */
#include <math.h>
#include <string.h>

#include "measure/judged.h"
#include "suite.h"

START_TEST(rows_are_whole)
{
    for (int i = 0; i < TDM_QUALITY_COUNT; i++) {
        const tdm_quality_row *row = &tdm_quality_rows[i];
        ck_assert_msg(row->code && row->label && row->unit && row->advice && row->finding, "%d", i);
        ck_assert_msg(strchr(row->finding, '#') != NULL, "%s", row->code);
        ck_assert_msg(isfinite(row->threshold), "%s", row->code);
        if (isfinite(row->unusable))
            ck_assert_msg(row->below == (row->unusable < row->threshold), "%s", row->code);
    }
}
END_TEST

/* Each figure is told from the others by its code. */
START_TEST(codes_differ)
{
    for (int i = 0; i < TDM_QUALITY_COUNT; i++) {
        for (int k = 0; k < i; k++)
            ck_assert_str_ne(tdm_quality_rows[i].code, tdm_quality_rows[k].code);
    }
}
END_TEST

/* A threshold may be nearer than the row's, but by no more than half; never further. */
START_TEST(nearer_bound)
{
    static const double bounds[] = {0, 0.6, 0.1, 2}, thresholds[] = {0.8, 0.6, 0.4, 0.8};
    for (int i = 0; i < 4; i++) {
        judged it;
        judged_good(&it);
        const tdm_quality_value value = {.value = 0.7, .bound = bounds[i]};
        ck_assert_int_eq(
            tdm_quality_add(&it.quality, TDM_QUALITY_HAIR_FOCUS_MM, &value, NULL, &it.warnings, &it.error),
            TDM_OK);
        ck_assert_double_eq_tol(judged_figure(&it, "hair-focus")->threshold, thresholds[i], 1e-9);
        ck_assert_int_eq(tdm_warnings_have(&it.warnings, "hair-focus"), thresholds[i] < 0.7);
        judged_free(&it);
    }
}
END_TEST

/* What is only stated has no threshold and is never wrong. */
START_TEST(stated)
{
    judged it;
    judged_good(&it);
    const tdm_quality_value value = {.value = 1000, .stated = true};
    ck_assert_int_eq(
        tdm_quality_add(&it.quality, TDM_QUALITY_FOCUS_PX, &value, NULL, &it.warnings, &it.error), TDM_OK);
    ck_assert_uint_eq(it.warnings.count, 0);
    ck_assert(it.quality.items[0].good && isnan(it.quality.items[0].threshold) && !it.quality.unusable);
    judged_free(&it);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {rows_are_whole, codes_differ, nearer_bound, stated, NULL};
    return run_suite("quality", tests);
}
