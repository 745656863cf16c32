/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a change lost, under another name, or of the wrong zone. */
#include <math.h>

#include "compare/made_reading.h"
#include "report/parsed_json.h"
#include "suite.h"

static void check_change(json_t *json, const tdm_zone_change *change, const tdm_figure *figure)
{
    tdm_value found;
    const bool has = tdm_change(change, figure, &found);
    switch (figure->kind) {
    case TDM_FIGURE_VALUE:
    case TDM_FIGURE_NUMBER:
        ck_assert_int_eq(has, !json_is_null(at(json, figure->path)));
        if (!has)
            break;
        check_number(at(at(json, figure->path), "value"), found.value);
        check_number(at(at(json, figure->path), "u"), found.u);
        break;
    case TDM_FIGURE_LAB:
        ck_assert_int_eq(has, !json_is_null(at(json, figure->path)));
        if (has)
            check_number(at(at(json, figure->path), "de00"), found.value);
        break;
    case TDM_FIGURE_FLAG:
        ck_assert(json_is_boolean(at(at(json, figure->path), "before")));
        break;
    case TDM_FIGURE_WORD:
        ck_assert_pstr_eq(json_string_value(at(at(json, figure->path), "before")),
                          tdm_zone_word(change->before, figure));
        ck_assert_pstr_eq(json_string_value(at(at(json, figure->path), "after")),
                          tdm_zone_word(change->after, figure));
        break;
    case TDM_FIGURE_PROFILE:
    case TDM_FIGURE_VISIBILITY:
    case TDM_FIGURE_PLACES:
        break;
    }
}

START_TEST(comparison_comes_back)
{
    tdm_reading *before = made_reading("before.jpg", 2);
    tdm_reading *after = made_reading("after.jpg", 2);
    after->zones[1].name[0] = 'Z';
    made_regrowth(&before->zones[0], false);
    made_regrowth(&after->zones[0], true);
    made_regrowth(&before->head, false);
    made_regrowth(&after->head, true);
    tdm_comparison *comparison = NULL;
    char *text = NULL;
    tdm_error error = {0};
    ck_assert_int_eq(tdm_compare(before, after, &comparison, &error), TDM_OK);
    ck_assert_int_eq(tdm_comparison_json(comparison, &text, &error), TDM_OK);
    json_t *root = parsed_json(text);
    ck_assert_int_eq(json_integer_value(at(root, "tidemark_comparison")), 1);
    ck_assert_str_eq(json_string_value(at(root, "before.photo.file")), "before.jpg");
    ck_assert_str_eq(json_string_value(at(root, "after.photo.file")), "after.jpg");
    ck_assert_uint_eq(json_array_size(at(root, "changes")), 1);
    json_t *change = json_array_get(at(root, "changes"), 0);
    ck_assert_str_eq(json_string_value(at(change, "name")), "zone 1");
    ck_assert_str_eq(json_string_value(at(change, "meaning")), tdm_comparison_zone(comparison, 0)->meaning);
    check_number(at(change, "root.level.value"), 1.2);
    check_number(at(change, "root.level.u"), 0.3 * sqrt(2));
    size_t count = 0;
    const tdm_figure *figures = tdm_figures(&count);
    for (size_t i = 0; i < count; i++) {
        check_change(change, tdm_comparison_zone(comparison, 0), &figures[i]);
        check_change(at(root, "head"), tdm_comparison_head(comparison), &figures[i]);
    }
    ck_assert_uint_eq(json_array_size(at(root, "warnings")), 2);
    ck_assert_ptr_nonnull(strstr(json_string_value(at(root, "caution")), "strand test"));
    json_decref(root);
    tdm_comparison_free(comparison);
    tdm_reading_free(before);
    tdm_reading_free(after);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {comparison_comes_back, NULL};
    return run_suite("json comparison", tests);
}
