/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a figure lost or under another name, NaN in JSON, a null written as a number, a file name that
 * makes the whole object fail. The text is parsed back and every figure looked up by its path. */
#include <jansson.h>
#include <math.h>
#include <string.h>

#include "compare/made_reading.h"
#include "measure/budget.h"
#include "suite.h"
#include "tidemark/report.h"
#include "tidemark/version.h"

/* Six significant digits. */
static const double rounding = 1e-5;

static json_t *parse(char *text)
{
    json_error_t error;
    ck_assert_ptr_null(strstr(text, "nan"));
    ck_assert_ptr_null(strstr(text, "inf"));
    json_t *root = json_loads(text, JSON_REJECT_DUPLICATES, &error);
    ck_assert_msg(root != NULL, "%s", error.text);
    ck_assert_int_eq(text[strlen(text) - 1], '\n');
    tdm_free(text);
    return root;
}

static json_t *reading_json(const tdm_reading *reading)
{
    char *text = NULL;
    tdm_error error = {0};
    ck_assert_int_eq(tdm_reading_json(reading, &text, &error), TDM_OK);
    return parse(text);
}

/* By dotted path; fails where a name on the way is missing. */
static json_t *at(json_t *object, const char *path)
{
    char name[64];
    for (;;) {
        const size_t length = strcspn(path, ".");
        ck_assert_uint_lt(length, sizeof name);
        memcpy(name, path, length);
        name[length] = '\0';
        object = json_object_get(object, name);
        ck_assert_msg(object != NULL, "no %s", name);
        if (!path[length])
            return object;
        path += length + 1;
    }
}

static void check_number(json_t *json, double value)
{
    if (!isfinite(value)) {
        ck_assert(json_is_null(json));
        return;
    }
    ck_assert(json_is_real(json));
    ck_assert_double_eq_tol(json_real_value(json), value, rounding * fmax(1, fabs(value)));
}

static void check_lab(json_t *json, const double lab[3])
{
    ck_assert_uint_eq(json_array_size(json), 3);
    for (size_t i = 0; i < 3; i++)
        check_number(json_array_get(json, i), lab[i]);
}

static void check_lists(json_t *json, const tdm_zone_reading *zone, const tdm_figure *figure)
{
    size_t count = 0;
    const tdm_profile_point *points = tdm_zone_profile(zone, figure, &count);
    for (size_t i = 0; points && i < count; i++) {
        json_t *item = json_array_get(json, i);
        check_number(at(item, "mm"), points[i].along);
        check_lab(at(item, "lab"), points[i].lab);
        check_number(at(item, "u"), points[i].u);
        ck_assert_ptr_null(json_object_get(item, "share"));
    }
    const tdm_visibility *seen = tdm_zone_visibility(zone, figure, &count);
    for (size_t i = 0; seen && i < count; i++) {
        check_number(at(json_array_get(json, i), "distance_m"), seen[i].distance_m);
        check_number(at(json_array_get(json, i), "dprime"), seen[i].dprime);
    }
    ck_assert_uint_eq(json_array_size(json), count);
}

static void check_figure(json_t *json, const tdm_zone_reading *zone, const tdm_figure *figure)
{
    tdm_value value;
    double lab[3];
    bool flag = false;
    switch (figure->kind) {
    case TDM_FIGURE_VALUE:
        ck_assert(tdm_zone_value(zone, figure, &value));
        check_number(at(json, "value"), value.value);
        check_number(at(json, "u"), value.u);
        break;
    case TDM_FIGURE_NUMBER:
        ck_assert(tdm_zone_value(zone, figure, &value));
        check_number(json, value.value);
        break;
    case TDM_FIGURE_FLAG:
        ck_assert(tdm_zone_flag(zone, figure, &flag));
        ck_assert(json_is_boolean(json) && json_is_true(json) == flag);
        break;
    case TDM_FIGURE_WORD:
        ck_assert_str_eq(json_string_value(json), tdm_zone_word(zone, figure));
        break;
    case TDM_FIGURE_LAB:
        ck_assert(tdm_zone_lab(zone, figure, lab));
        check_lab(json, lab);
        break;
    case TDM_FIGURE_PROFILE:
    case TDM_FIGURE_VISIBILITY:
        check_lists(json, zone, figure);
        break;
    }
}

START_TEST(every_figure_comes_back)
{
    tdm_reading *reading = made_reading("before.jpg", 2);
    made_fill(&reading->zones[0]);
    made_regrowth(&reading->zones[1], false);
    made_fill(&reading->head);
    json_t *root = reading_json(reading);
    size_t count = 0;
    const tdm_figure *figures = tdm_figures(&count);
    for (size_t i = 0; i < count; i++) {
        check_figure(at(json_array_get(at(root, "zones"), 0), figures[i].path), &reading->zones[0],
                     &figures[i]);
        check_figure(at(at(root, "head"), figures[i].path), &reading->head, &figures[i]);
    }
    ck_assert_uint_eq(json_array_size(at(root, "zones")), 2);
    json_decref(root);
    tdm_reading_free(reading);
}
END_TEST

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

/* The names of the published object, spelt out here so that the table can't change them unseen. */
START_TEST(names_are_as_published)
{
    static const char *const names[] = {"name",
                                        "side",
                                        "length_mm",
                                        "width_mm",
                                        "used_share",
                                        "overall.lab",
                                        "overall.level.value",
                                        "overall.level.u",
                                        "overall.tone",
                                        "root.lab",
                                        "root.level.value",
                                        "root.tone",
                                        "ends.lab",
                                        "ends.level.value",
                                        "ends.tone",
                                        "gradient.shape",
                                        "gradient.centre_mm.value",
                                        "gradient.width_mm.u",
                                        "gradient.de00.value",
                                        "gradient.slope_lstar_per_cm.value",
                                        "gradient.profile",
                                        "demarcation.local_width_mm.value",
                                        "demarcation.stagger_mm.value",
                                        "demarcation.span",
                                        "demarcation.visibility",
                                        "demarcation.grade",
                                        "strands.separable",
                                        "strands.light_share.value",
                                        "strands.light_lab",
                                        "strands.dark_lab",
                                        "strands.contrast_lstar.value",
                                        "strands.contrast_de00.value",
                                        "strands.ribbon_mm.median",
                                        "strands.ribbon_mm.p25",
                                        "strands.ribbon_mm.p75",
                                        "strands.spacing_mm.median",
                                        "strands.spacing_mm.cv",
                                        "strands.start_mm.median",
                                        "strands.start_mm.p25",
                                        "strands.start_mm.p75"};
    tdm_reading *reading = made_reading("before.jpg", 1);
    made_fill(&reading->zones[0]);
    json_t *root = reading_json(reading);
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++)
        (void)at(json_array_get(at(root, "zones"), 0), names[i]); /* fails where it is missing */
    json_decref(root);
    tdm_reading_free(reading);
}
END_TEST

START_TEST(facts_come_back)
{
    tdm_reading *reading = made_reading("before.jpg", 1);
    tdm_error error = {0};
    strcpy(reading->taken, "2026-03-14T09:26:53");
    ck_assert_int_eq(tdm_warn(&reading->warnings, &error, "clipped", "zone 1", "too light"), TDM_OK);
    json_t *root = reading_json(reading);
    ck_assert_int_eq(json_integer_value(at(root, "tidemark_reading")), 1);
    ck_assert_str_eq(json_string_value(at(root, "tidemark_version")), tdm_version());
    ck_assert_str_eq(json_string_value(at(root, "libraries.lcms2")), tdm_library_version("lcms2"));
    ck_assert_str_eq(json_string_value(at(root, "libraries.libjpeg-turbo")),
                     tdm_library_version("libjpeg-turbo"));
    ck_assert_str_eq(json_string_value(at(root, "libraries.libpng")), tdm_library_version("libpng"));
    ck_assert_str_eq(json_string_value(at(root, "libraries.gsl")), tdm_library_version("gsl"));
    ck_assert_str_eq(json_string_value(at(root, "photo.file")), "before.jpg");
    ck_assert_uint_eq(strlen(json_string_value(at(root, "photo.sha256"))), 64);
    ck_assert_int_eq(json_integer_value(json_array_get(at(root, "photo.size"), 0)), 4000);
    ck_assert_int_eq(json_integer_value(json_array_get(at(root, "photo.size"), 1)), 3000);
    ck_assert_str_eq(json_string_value(at(root, "photo.profile")), "sRGB");
    ck_assert_str_eq(json_string_value(at(root, "photo.profile_source")), "embedded");
    ck_assert_str_eq(json_string_value(at(root, "photo.taken")), "2026-03-14T09:26:53");
    ck_assert_str_eq(json_string_value(at(root, "calibration.method")), "target");
    ck_assert(json_is_null(at(root, "calibration.from"))); /* fitted on this photograph */
    check_number(at(root, "calibration.mm_per_px"), 0.1);
    check_number(at(root, "calibration.residual_de00.before_mean"), 6.25);
    check_number(at(root, "calibration.residual_de00.mean"), 1.25);
    check_number(at(root, "calibration.residual_de00.max"), 3.5);
    check_number(at(root, "calibration.residual_de00.left_out_mean"), 1.75);
    check_number(at(root, "calibration.u_lstar"), 1.0); /* expanded: twice the standard 0.5 */
    ck_assert(json_is_true(at(root, "quality.usable")));
    json_t *warning = json_array_get(at(root, "quality.warnings"), 0);
    ck_assert_str_eq(json_string_value(at(warning, "code")), "clipped");
    ck_assert_str_eq(json_string_value(at(warning, "text")), "too light");
    ck_assert_str_eq(json_string_value(at(warning, "zone")), "zone 1");
    ck_assert_ptr_nonnull(strstr(json_string_value(at(root, "level_scale")), "not calibrated"));
    ck_assert_ptr_nonnull(strstr(json_string_value(at(root, "caution")), "strand test"));
    json_decref(root);
    tdm_reading_free(reading);
}
END_TEST

/* A zone that could carry nothing: every figure but the flag is null, none is missing. */
START_TEST(null_figures_are_null)
{
    tdm_reading *reading = made_reading("before.jpg", 1);
    reading->mm_per_px = NAN;
    reading->calibration.residual_mean = NAN;
    json_t *root = reading_json(reading);
    size_t count = 0;
    const tdm_figure *figures = tdm_figures(&count);
    for (size_t i = 0; i < count; i++) {
        json_t *found = at(json_array_get(at(root, "zones"), 0), figures[i].path);
        if (figures[i].kind == TDM_FIGURE_VISIBILITY)
            ck_assert(json_is_null(at(json_array_get(found, 0), "dprime")));
        else if (figures[i].kind != TDM_FIGURE_FLAG)
            ck_assert_msg(json_is_null(found), "%s", figures[i].path);
    }
    ck_assert(json_is_null(at(root, "calibration.mm_per_px")));
    ck_assert(json_is_null(at(root, "calibration.residual_de00.mean")));
    ck_assert(json_is_null(at(root, "photo.taken")));
    ck_assert(json_is_null(at(json_array_get(at(root, "zones"), 0), "side")));
    json_decref(root);
    tdm_reading_free(reading);
}
END_TEST

START_TEST(profile_without_scale_is_in_shares)
{
    tdm_reading *reading = made_reading("before.jpg", 1);
    made_regrowth(&reading->zones[0], false);
    reading->mm_per_px = NAN;
    json_t *root = reading_json(reading);
    json_t *point = json_array_get(at(json_array_get(at(root, "zones"), 0), "gradient.profile"), 2);
    ck_assert(json_is_null(at(point, "mm")));
    check_number(at(point, "share"), 20);
    json_decref(root);
    tdm_reading_free(reading);
}
END_TEST

START_TEST(foreign_bytes_are_no_failure)
{
    tdm_reading *reading = made_reading("caf\xe9\n\"1\".jpg", 1);
    json_t *root = reading_json(reading);
    ck_assert_str_eq(json_string_value(at(root, "photo.file")), "caf\uFFFD\n\"1\".jpg");
    json_decref(root);
    tdm_reading_free(reading);
}
END_TEST

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
        ck_assert_str_eq(json_string_value(at(at(json, figure->path), "before")),
                         tdm_zone_word(change->before, figure));
        ck_assert_str_eq(json_string_value(at(at(json, figure->path), "after")),
                         tdm_zone_word(change->after, figure));
        break;
    case TDM_FIGURE_PROFILE:
    case TDM_FIGURE_VISIBILITY:
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
    json_t *root = parse(text);
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
    TCase *tests = patient_case("json");
    tcase_add_test(tests, every_figure_comes_back);
    tcase_add_test(tests, budgets_come_back);
    tcase_add_test(tests, budget_of_the_head);
    tcase_add_test(tests, names_are_as_published);
    tcase_add_test(tests, facts_come_back);
    tcase_add_test(tests, null_figures_are_null);
    tcase_add_test(tests, profile_without_scale_is_in_shares);
    tcase_add_test(tests, foreign_bytes_are_no_failure);
    tcase_add_test(tests, comparison_comes_back);
    return run_case("json", tests);
}
