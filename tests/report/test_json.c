/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a figure lost or under another name, a null written as a number. The text is parsed back and
 * every figure looked up by its path. */
#include <math.h>

#include "compare/made_reading.h"
#include "report/parsed_json.h"
#include "suite.h"

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
        check_number(at(json_array_get(json, i), "u"), seen[i].u);
    }
    const tdm_place *places = tdm_zone_places(zone, figure, &count);
    for (size_t i = 0; places && i < count; i++) {
        check_number(at(json_array_get(json, i), "mm"), places[i].mm);
        check_number(at(json_array_get(json, i), "across_mm"), places[i].across_mm);
        check_number(at(json_array_get(json, i), "length_mm"), places[i].length_mm);
        check_number(at(json_array_get(json, i), "width_mm"), places[i].width_mm);
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
    case TDM_FIGURE_PLACES:
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

int main(void)
{
    const TTest *const tests[] = {every_figure_comes_back, names_are_as_published, null_figures_are_null,
                                  profile_without_scale_is_in_shares, NULL};
    return run_suite("json", tests);
}
