/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: averaged L* instead of light, null figures counted as zero, shrunken uncertainties, a hard
 * line hidden. */
#include <math.h>

#include "measure/budget.h"
#include "measure/head.h"
#include "suite.h"

static void put(struct tdm_zone_reading *zone, tdm_value *where, double value, double u)
{
    const tdm_budget parts = {.part = {[TDM_PART_CALIBRATION] = u / 2}};
    tdm_put(zone, where, value, &parts);
}

static void two_zones(struct tdm_zone_reading zones[2])
{
    tdm_zone_reading_init(&zones[0]);
    tdm_zone_reading_init(&zones[1]);
    for (int k = 0; k < 3; k++) {
        zones[0].root.lab[k] = 0;
        zones[1].root.lab[k] = k == 0 ? 100 : 0;
    }
    put(&zones[0], &zones[0].root.lstar, 0, 1);
    put(&zones[1], &zones[1].root.lstar, 100, 3);
    put(&zones[0], &zones[0].gradient.width_mm, 10, 2);
    put(&zones[1], &zones[1].gradient.width_mm, 40, 6);
    put(&zones[0], &zones[0].demarcation.stagger_mm, 4, 1);
    zones[0].demarcation.gap_count = 1;
    zones[1].demarcation.gap_count = 2;
    zones[1].demarcation.bleed_count = 4; /* the other zone couldn't be looked at */
    zones[0].demarcation.grade = "hard";
    zones[1].demarcation.grade = "soft";
    zones[0].gradient.shape = "transition";
    zones[1].gradient.shape = "ramp";
}

START_TEST(by_hand)
{
    struct tdm_zone_reading zones[2], head;
    const double areas[2] = {100, 300};
    const tdm_level_scale scale = tdm_level_scale_default();
    tdm_error error = {0};
    two_zones(zones);
    zones[0].weight = 3; /* 3 × 100 against 1 × 300: equal */
    tdm_zone_reading_init(&head);
    ck_assert_int_eq(tdm_head_make(zones, areas, 2, &scale, &head, &error), TDM_OK);
    /* black and white in equal parts: Y 0.5, L* 76.0693 (ISO/CIE 11664-4) */
    ck_assert_double_eq_tol(head.root.lab[0], 76.0693, 1e-3);
    ck_assert_double_eq_tol(head.root.lstar.value, 76.0693, 1e-3);
    ck_assert_double_eq_tol(head.root.lstar.u, 2, 1e-9);
    ck_assert_double_eq_tol(head.gradient.width_mm.value, 25, 1e-9);
    ck_assert_double_eq_tol(head.gradient.width_mm.u, 4, 1e-9);
    ck_assert_double_eq_tol(head.demarcation.stagger_mm.value, 4, 1e-9); /* the other zone has none */
    ck_assert_str_eq(head.demarcation.grade, "hard");
    ck_assert_double_eq(head.demarcation.gap_count, 3); /* counts add up, whatever the zones weigh */
    ck_assert_double_eq(head.demarcation.bleed_count, 4);
    ck_assert(isnan(head.strands.light_share.value));
    tdm_zone_reading_clear(&head);
}
END_TEST

START_TEST(the_heavier_word_wins)
{
    struct tdm_zone_reading zones[2], head;
    const double areas[2] = {100, 300};
    const tdm_level_scale scale = tdm_level_scale_default();
    tdm_error error = {0};
    two_zones(zones);
    tdm_zone_reading_init(&head);
    ck_assert_int_eq(tdm_head_make(zones, areas, 2, &scale, &head, &error), TDM_OK);
    ck_assert_str_eq(head.gradient.shape, "ramp");
    tdm_zone_reading_clear(&head);
}
END_TEST

START_TEST(zones_without_area_say_nothing)
{
    struct tdm_zone_reading zones[2], head;
    const double areas[2] = {0, 0};
    const tdm_level_scale scale = tdm_level_scale_default();
    tdm_error error = {0};
    two_zones(zones);
    tdm_zone_reading_init(&head);
    ck_assert_int_eq(tdm_head_make(zones, areas, 2, &scale, &head, &error), TDM_OK);
    ck_assert(isnan(head.root.lab[0]) && isnan(head.gradient.width_mm.value));
    tdm_zone_reading_clear(&head);
}
END_TEST

/* The line of one zone goes out of sight at 3 m, the other's at 5; and one that is still seen at 10 m keeps
 * the head's in sight. A zone without a line says nothing. */
START_TEST(a_line_is_hidden_where_the_last_is)
{
    struct tdm_zone_reading zones[3], head;
    const double areas[3] = {100, 300, 100};
    const tdm_level_scale scale = tdm_level_scale_default();
    tdm_error error = {0};
    two_zones(zones);
    tdm_zone_reading_init(&zones[2]);
    zones[0].demarcation.shows_from_m = 0.3;
    zones[0].demarcation.hidden_from_m = 3;
    zones[1].demarcation.shows_from_m = 1.5;
    zones[1].demarcation.hidden_from_m = 5;
    for (size_t i = 0; i < TDM_DISTANCES; i++) {
        zones[0].demarcation.visibility[i].dprime = 1;
        zones[0].demarcation.visibility[i].u = 0.2;
        zones[1].demarcation.visibility[i].dprime = 2;
        zones[1].demarcation.visibility[i].u = 0.4;
    }
    tdm_zone_reading_init(&head);
    ck_assert_int_eq(tdm_head_make(zones, areas, 3, &scale, &head, &error), TDM_OK);
    ck_assert_double_eq_tol(head.demarcation.shows_from_m, 0.3, 1e-9);
    ck_assert_double_eq_tol(head.demarcation.hidden_from_m, 5, 1e-9);
    ck_assert_double_eq_tol(head.demarcation.visibility[1].dprime, 1.75, 1e-9); /* by area, 1 to 3 */
    ck_assert_double_eq_tol(head.demarcation.visibility[1].u, 0.35, 1e-9);
    tdm_zone_reading_clear(&head);
    zones[0].demarcation.hidden_from_m = NAN;
    tdm_zone_reading_init(&head);
    ck_assert_int_eq(tdm_head_make(zones, areas, 3, &scale, &head, &error), TDM_OK);
    ck_assert_double_eq_tol(head.demarcation.shows_from_m, 0.3, 1e-9);
    ck_assert(isnan(head.demarcation.hidden_from_m));
    tdm_zone_reading_clear(&head);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {a_line_is_hidden_where_the_last_is, by_hand, the_heavier_word_wins,
                                  zones_without_area_say_nothing, NULL};
    return run_suite("head", tests);
}
