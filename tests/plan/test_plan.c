/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a blend asked for where there is no line or none that a shade can follow, the wrong zone
 * first, places that forget where the zone begins, light hair in shade taken for dark, words that carry a
 * NaN. */
#include <math.h>
#include <string.h>

#include "measure/measure.h"
#include "plan/made_hair.h"
#include "plan/plan_parts.h"
#include "suite.h"

/* A drawn zone with every figure of its reading that a plan looks at. */
static void open_zone(const made_head *head, double root, synthetic_zone *zone)
{
    tdm_error error = {0};
    tdm_strip strip = synthetic_strip(200, 60, made_head_colour, head);
    strip.root = root;
    synthetic_zone_make(strip, zone);
    const tdm_measure *const measures[] = {&tdm_measure_areas, &tdm_measure_gradient, &tdm_measure_strands};
    for (size_t i = 0; i < sizeof measures / sizeof measures[0]; i++)
        ck_assert_int_eq(measures[i]->compute(&zone->input, &zone->reading, &zone->warnings, &error), TDM_OK);
}

static void plan_it(synthetic_zone *zone, double target, tdm_planned_zone *out)
{
    tdm_error error = {0};
    *out = (tdm_planned_zone){.about = {.name = "zone", .weight = 1}};
    ck_assert_int_eq(tdm_plan_zone_make(&zone->strip, &zone->reading, &zone->scale, target, out, &error),
                     TDM_OK);
    ck_assert_int_eq(tdm_plan_say(&zone->reading, &zone->scale, out, &error), TDM_OK);
}

static void close_plan(tdm_planned_zone *planned, synthetic_zone *zone)
{
    free((char *)planned->about.why);
    free((char *)planned->about.blend);
    free((char *)planned->about.leave);
    tdm_hair_free(&planned->hair);
    synthetic_zone_free(zone);
}

static void check_words(const char *words)
{
    ck_assert(!words || (!strstr(words, "nan") && !strstr(words, "?") && strlen(words) > 10));
}

START_TEST(hard_line_needs_a_blend)
{
    const made_head head = made_regrown();
    synthetic_zone zone;
    tdm_planned_zone planned;
    open_zone(&head, 0, &zone);
    plan_it(&zone, NAN, &planned);
    const tdm_zone_plan *plan = &planned.about;
    ck_assert_str_eq(plan->need, "needed");
    ck_assert(plan->planned && plan->enough);
    ck_assert_double_gt(plan->shade.to_mm, 34);
    ck_assert_double_eq_tol(plan->shade.feather_to_mm - plan->shade.feather_from_mm, plan->shade.feather_mm,
                            1e-9);
    ck_assert_double_gt(plan->shade.level.value, zone.reading.root.level.value);
    ck_assert_double_lt(plan->shade.level.value, zone.reading.ends.level.value);
    ck_assert_str_eq(plan->after.grade, "soft");
    ck_assert_double_lt(plan->after.dprime.value + plan->after.dprime.u, 2.01);
    check_words(plan->why);
    check_words(plan->blend);
    check_words(plan->leave);
    close_plan(&planned, &zone);
}
END_TEST

/* Breaks if grey hair at the root isn't named, or is where the reading isn't sure of any. */
START_TEST(grey_hair_is_named)
{
    static const struct {
        tdm_value share;
        bool named;
    } readings[] = {{{0.3, 0.1}, true}, {{0.05, 0.06}, false}, {{NAN, NAN}, false}};
    for (size_t i = 0; i < 3; i++) {
        struct tdm_zone_reading reading;
        tdm_planned_zone planned = {.about = {.name = "zone", .need = "not needed"}};
        const tdm_level_scale scale = tdm_level_scale_default();
        tdm_error error = {0};
        tdm_zone_reading_init(&reading);
        reading.grey.share = readings[i].share;
        ck_assert_int_eq(tdm_plan_say(&reading, &scale, &planned, &error), TDM_OK);
        const char *named = strstr(planned.about.why, "About 30 % of the hair at the root is grey");
        ck_assert((named != NULL) == readings[i].named);
        free((char *)planned.about.why);
        free((char *)planned.about.blend);
        free((char *)planned.about.leave);
    }
}
END_TEST

/* A zone that begins 25 mm below the root has its line 25 mm further from it, and its shade too. */
START_TEST(places_are_from_the_root)
{
    const made_head head = made_regrown();
    synthetic_zone at_root, below;
    tdm_planned_zone first, second;
    open_zone(&head, 0, &at_root);
    open_zone(&head, 25, &below);
    plan_it(&at_root, NAN, &first);
    plan_it(&below, NAN, &second);
    ck_assert_double_eq(second.about.shade.from_mm, 25);
    ck_assert_double_eq_tol(second.about.after.centre_mm.value - first.about.after.centre_mm.value, 25, 8);
    ck_assert_double_eq_tol(second.about.light.from_mm - first.about.light.from_mm, 25, 1e-6);
    close_plan(&first, &at_root);
    close_plan(&second, &below);
}
END_TEST

static void expect_need(const made_head *head, const char *need, const char *words)
{
    synthetic_zone zone;
    tdm_planned_zone planned;
    open_zone(head, 0, &zone);
    plan_it(&zone, NAN, &planned);
    ck_assert_msg(strcmp(planned.about.need, need) == 0, "%s, not %s: d' %g", planned.about.need, need,
                  planned.about.dprime);
    ck_assert(!planned.about.planned);
    ck_assert_ptr_nonnull(strstr(planned.about.why, words));
    close_plan(&planned, &zone);
}

START_TEST(no_blend_without_a_line_to_follow)
{
    made_head even = made_regrown(), turned = made_regrown(), soft = made_regrown();
    memcpy(even.dark, even.root, sizeof even.dark);
    even.light_share = 0;
    expect_need(&even, "not needed", "no line");
    memcpy(turned.root, turned.light, sizeof turned.root); /* dark lengths under a light root */
    turned.light_share = 0;
    expect_need(&turned, "not planned", "only darkens");
    soft.width = 22;
    soft.centre = 50;
    expect_need(&soft, "optional", "can be left");
}
END_TEST

/* The drawn share of light strands, in the hair below the line, of which 40 % are light by design: counted
 * from the drawing. Strands of 1.5 mm leave few cells that hold two kinds. */
START_TEST(light_hair_is_found_in_shade)
{
    made_head head = made_regrown();
    head.shading = 0.25;
    synthetic_zone zone;
    tdm_planned_zone planned;
    open_zone(&head, 0, &zone);
    plan_it(&zone, NAN, &planned);
    made_head plain = head;
    plain.shading = plain.noise = 0;
    double light = 0;
    for (double t = 0.125; t < 60; t += 0.25) {
        double lab[3];
        made_head_colour(150, t, &plain, lab);
        light += lab[0] > 45;
    }
    light /= 240;
    ck_assert_double_gt(light, 0.1);
    ck_assert_double_eq_tol(planned.about.light.ends_share, light, 0.06);
    ck_assert_double_lt(planned.about.light.root_share, 0.01);
    ck_assert_double_eq_tol(planned.about.light.from_mm, 42, 4);
    ck_assert_double_eq_tol(planned.about.light.to_mm, 192, 4);
    close_plan(&planned, &zone);
}
END_TEST

START_TEST(target_level_decides)
{
    const made_head head = made_regrown();
    synthetic_zone zone;
    tdm_planned_zone dark, light;
    open_zone(&head, 0, &zone);
    plan_it(&zone, 1, &dark);
    ck_assert_double_eq(dark.about.light.target_level, 1);
    ck_assert_double_gt(dark.about.light.share.value, 0.99);
    tdm_hair_free(&dark.hair);
    plan_it(&zone, 12, &light);
    ck_assert_double_eq(light.about.light.share.value, 0);
    ck_assert(isnan(light.about.light.from_mm) && isnan(light.about.light.to_mm));
    free((char *)dark.about.why);
    free((char *)dark.about.blend);
    free((char *)dark.about.leave);
    close_plan(&light, &zone);
}
END_TEST

static tdm_planned_zone ranked(const char *name, const char *need, double weight, double dprime, double reach)
{
    return (tdm_planned_zone){.about = {.name = name,
                                        .need = need,
                                        .weight = weight,
                                        .dprime = dprime,
                                        .planned = reach > 0,
                                        .shade = {.feather_to_mm = reach}}};
}

START_TEST(zones_come_by_weight_times_dprime)
{
    tdm_planned_zone zones[] = {ranked("nape", "needed", 1, 8, 70), ranked("front", "needed", 3, 4, 96),
                                ranked("crown", "not needed", 5, 0.5, 0), ranked("left", "needed", 1, 8, 80),
                                ranked("right", "optional", 1, 1.5, 0)};
    tdm_plan plan = {.zones = zones, .zone_count = 5};
    tdm_error error = {0};
    ck_assert_int_eq(tdm_plan_put_in_order(&plan, &error), TDM_OK);
    const unsigned orders[] = {2, 1, 0, 3, 0};
    for (size_t i = 0; i < 5; i++)
        ck_assert_uint_eq(zones[i].about.order, orders[i]);
    ck_assert_str_eq(
        plan.summary,
        "Begin with front, then nape, then left: by how clearly the line shows, and how much the marks say "
        "the zone is looked at. The shade runs 26 mm further down at front than at nape. right can be left "
        "as it "
        "is. crown needs no blend.");
    free(plan.summary);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {hard_line_needs_a_blend,           grey_hair_is_named,
                                  places_are_from_the_root,          no_blend_without_a_line_to_follow,
                                  light_hair_is_found_in_shade,      target_level_decides,
                                  zones_come_by_weight_times_dprime, NULL};
    return run_suite("plan", tests);
}
