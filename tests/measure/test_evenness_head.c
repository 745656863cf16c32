/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: left and right the wrong way round, a shared error counted or an own one left out, a frame
 * where all zones weigh alike, a side made up. */
#include <math.h>

#include "measure/budget.h"
#include "measure/head.h"
#include "suite.h"

enum { ZONES = 4 };

static void put(struct tdm_zone_reading *zone, tdm_value *where, double value, double own, double shared)
{
    const tdm_budget parts = {.part = {[TDM_PART_SAMPLING] = own, [TDM_PART_CALIBRATION] = shared}};
    tdm_put(zone, where, value, &parts);
}

/* Two on the left, one on the right, one of neither; of the same area. */
static void four_zones(struct tdm_zone_reading zones[ZONES])
{
    static char left[] = "left", right[] = "right";
    static char *const sides[ZONES] = {left, left, right, NULL};
    static const double lstar[ZONES] = {50, 54, 48, 40}, share[ZONES] = {0.3, 0.5, 0.2, NAN};
    for (int i = 0; i < ZONES; i++) {
        tdm_zone_reading_init(&zones[i]);
        zones[i].side = sides[i]; /* borrowed: the zones aren't cleared */
        zones[i].ends.lab[0] = lstar[i];
        zones[i].ends.lab[1] = zones[i].ends.lab[2] = 0;
        put(&zones[i], &zones[i].ends.lstar, lstar[i], 0.3, 1);
        put(&zones[i], &zones[i].mid.lstar, lstar[i] - 2, 0.3, 1);
        if (isfinite(share[i]))
            put(&zones[i], &zones[i].strands.light_share, share[i], 0.02, 0);
    }
    put(&zones[0], &zones[0].gradient.centre_mm, 30, 1, 0);
    put(&zones[2], &zones[2].gradient.centre_mm, 42, 1, 0);
}

static void make(const struct tdm_zone_reading zones[ZONES], struct tdm_zone_reading *head)
{
    const double areas[ZONES] = {100, 100, 100, 100};
    const tdm_level_scale scale = tdm_level_scale_default();
    tdm_error error = {0};
    tdm_zone_reading_init(head);
    ck_assert_int_eq(tdm_head_make(zones, areas, ZONES, &scale, head, &error), TDM_OK);
}

START_TEST(left_less_right_by_hand)
{
    struct tdm_zone_reading zones[ZONES], head;
    four_zones(zones);
    make(zones, &head);
    ck_assert_double_eq_tol(head.evenness.left_right_lstar.value, 52 - 48, 1e-9);
    /* Own: 0.3 of the right, 0.3/√2 of the left, twice; the calibration is the same for both. */
    ck_assert_double_eq_tol(head.evenness.left_right_lstar.u, 2 * 0.3 * sqrt(1.5), 1e-9);
    ck_assert_double_eq_tol(head.evenness.left_right_share.value, 0.4 - 0.2, 1e-9);
    ck_assert_double_eq_tol(head.evenness.left_right_centre_mm.value, -12, 1e-9);
    ck_assert_double_eq_tol(head.evenness.left_right_centre_mm.u, 2 * sqrt(2), 1e-9);
    ck_assert(isnan(head.evenness.left_right_contrast.value));
    tdm_zone_reading_clear(&head);
    zones[2].side = NULL;
    make(zones, &head);
    ck_assert(isnan(head.evenness.left_right_lstar.value));
    tdm_zone_reading_clear(&head);
}
END_TEST

/* The mean is 48: the last lies 8 off. Its own part counts three quarters, each of the others' a quarter. */
START_TEST(the_zone_furthest_from_the_mean)
{
    struct tdm_zone_reading zones[ZONES], head;
    four_zones(zones);
    make(zones, &head);
    ck_assert_double_eq_tol(head.evenness.between_lstar.value, 8, 1e-9);
    ck_assert_double_eq_tol(head.evenness.between_lstar.u, 2 * 0.3 * sqrt(9.0 / 16 + 3.0 / 16), 1e-9);
    ck_assert_double_eq_tol(head.evenness.between_share.value, 0.5 - 1.0 / 3, 1e-9);
    /* L* of the mean light of 50, 54, 48 and 40 is 48.398, and a difference of d L* is d / S_L CIEDE2000 with
     * S_L = 1 + 0.015 m² / √(20 + m²), m = 44.199 - 50: 8.398 / 1.0689 (ISO/CIE 11664-6) */
    ck_assert_double_eq_tol(head.ends.lab[0], 48.398, 1e-3);
    ck_assert_double_eq_tol(head.evenness.between_de00.value, 7.857, 2e-3);
    tdm_zone_reading_clear(&head);
}
END_TEST

START_TEST(one_zone_has_nothing_to_be_compared_with)
{
    struct tdm_zone_reading zones[ZONES], head;
    const double areas[1] = {100};
    const tdm_level_scale scale = tdm_level_scale_default();
    tdm_error error = {0};
    four_zones(zones);
    tdm_zone_reading_init(&head);
    ck_assert_int_eq(tdm_head_make(zones, areas, 1, &scale, &head, &error), TDM_OK);
    ck_assert(isnan(head.evenness.between_lstar.value) && isnan(head.evenness.between_de00.value));
    ck_assert(isnan(head.frame.lstar_above_rest.value));
    tdm_zone_reading_clear(&head);
}
END_TEST

START_TEST(the_frame_is_what_weighs_more)
{
    struct tdm_zone_reading zones[ZONES], head;
    four_zones(zones);
    make(zones, &head);
    ck_assert(isnan(head.frame.lstar_above_rest.value)); /* all alike */
    tdm_zone_reading_clear(&head);
    zones[3].weight = 0.5; /* less than usual: the others are no frame */
    make(zones, &head);
    ck_assert(isnan(head.frame.lstar_above_rest.value));
    tdm_zone_reading_clear(&head);
    zones[3].weight = 1;
    zones[1].weight = 3;
    make(zones, &head);
    ck_assert_double_eq_tol(head.frame.lstar_above_rest.value, 52 - (48 + 46 + 38) / 3.0, 1e-9);
    ck_assert_double_eq_tol(head.frame.lstar_above_rest.u, 2 * 0.3 * sqrt(4.0 / 3), 1e-9);
    ck_assert_double_eq_tol(head.frame.share_above_rest.value, 0.5 - 0.25, 1e-9);
    tdm_zone_reading_clear(&head);
}
END_TEST

/* A zone whose uncertainty isn't known makes that of the difference unknown, not the difference. */
START_TEST(an_unknown_uncertainty_stays_unknown)
{
    struct tdm_zone_reading zones[ZONES], head;
    four_zones(zones);
    zones[2].ends.lstar.u = NAN;
    make(zones, &head);
    ck_assert_double_eq_tol(head.evenness.left_right_lstar.value, 4, 1e-9);
    ck_assert(isnan(head.evenness.left_right_lstar.u));
    tdm_zone_reading_clear(&head);
}
END_TEST

/* Patches add up; the warmest of all is the head's. */
START_TEST(warm_patches_of_all_zones)
{
    struct tdm_zone_reading zones[ZONES], head;
    four_zones(zones);
    zones[0].evenness.warm_count = 0;
    zones[1].evenness.warm_count = 2;
    zones[2].evenness.warm_count = 1;
    put(&zones[1], &zones[1].evenness.warmth, 3, 0.4, 0);
    put(&zones[2], &zones[2].evenness.warmth, 5, 0.5, 0);
    make(zones, &head);
    ck_assert_double_eq(head.evenness.warm_count, 3);
    ck_assert_double_eq_tol(head.evenness.warmth.value, 5, 1e-9);
    ck_assert_double_eq_tol(head.evenness.warmth.u, 1, 1e-9);
    tdm_zone_reading_clear(&head);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {left_less_right_by_hand,
                                  the_zone_furthest_from_the_mean,
                                  one_zone_has_nothing_to_be_compared_with,
                                  the_frame_is_what_weighs_more,
                                  an_unknown_uncertainty_stays_unknown,
                                  warm_patches_of_all_zones,
                                  NULL};
    return run_suite("evenness_head", tests);
}
