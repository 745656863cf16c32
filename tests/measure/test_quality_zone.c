/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a zone's threshold on its wrong side, light that warns though it is in doubt, a zone that
 * carries figures beyond the harder bound. Each is tried from both sides. */
#include <math.h>

#include "measure/judged.h"
#include "suite.h"

START_TEST(a_good_zone_is_quiet)
{
    judged it;
    judged_good(&it);
    ck_assert(!zone_warns(&it, "zone-unusable") && it.carries);
    ck_assert_uint_eq(it.warnings.count, 0);
    ck_assert_uint_eq(it.quality.count, 5);
    ck_assert_str_eq(judged_figure(&it, "clipped")->zone, "zone");
    judged_free(&it);
}
END_TEST

START_TEST(burnt_out_and_black)
{
    judged it;
    judged_good(&it);
    it.strip.clipped_share = 0.009;
    ck_assert(!zone_warns(&it, "clipped") && it.carries);
    it.strip.clipped_share = 0.02;
    ck_assert(zone_warns(&it, "clipped") && it.carries);
    ck_assert_str_eq(it.warnings.items[0].text,
                     "2 % of the zone is burnt out and left out; expose less or turn the light");
    it.strip.clipped_share = 0.3;
    ck_assert(zone_warns(&it, "zone-unusable") && !it.carries);
    judged_again(&it);
    it.strip.black_share = 0.04;
    ck_assert(!zone_warns(&it, "dark") && it.carries);
    it.strip.black_share = 0.06;
    ck_assert(zone_warns(&it, "dark") && it.carries);
    it.strip.black_share = 0.26;
    ck_assert(zone_warns(&it, "dark") && !it.carries);
    ck_assert(!it.quality.unusable); /* one zone doesn't spoil the photograph */
    judged_free(&it);
}
END_TEST

START_TEST(used_share)
{
    judged it;
    judged_good(&it);
    it.strip.used_share = 0.71;
    ck_assert(!zone_warns(&it, "little-used") && it.carries);
    it.strip.used_share = 0.69;
    ck_assert(zone_warns(&it, "little-used") && it.carries);
    it.strip.used_share = 0.05;
    ck_assert(zone_warns(&it, "zone-unusable") && !it.carries);
    judged_free(&it);
}
END_TEST

START_TEST(short_and_small_zones)
{
    judged it;
    judged_good(&it);
    it.strip.length = 29;
    ck_assert(zone_warns(&it, "short-zone") && it.carries);
    judged_again(&it);
    it.strip.rows = 63;
    ck_assert(zone_warns(&it, "zone-unusable") && !it.carries);
    judged_again(&it);
    it.strip.cols = 15;
    ck_assert(zone_warns(&it, "zone-unusable") && !it.carries);
    judged_again(&it);
    it.strip.scaled = false;
    ck_assert(!zone_warns(&it, "few-cells") && it.carries);
    ck_assert_double_eq_tol(judged_figure(&it, "few-cells")->value, 200, 1e-9);
    it.strip.rows = 100;
    ck_assert(zone_warns(&it, "few-cells") && it.carries);
    it.strip.cols = 15;
    ck_assert(zone_warns(&it, "few-cells") && !it.carries);
    judged_free(&it);
}
END_TEST

/* With a scale too, a zone that is refused for its cells has a figure that says so. */
START_TEST(few_cells_with_a_scale)
{
    judged it;
    judged_good(&it);
    it.strip.cols = 31;
    ck_assert(zone_warns(&it, "few-cells") && it.carries && !judged_figure(&it, "few-cells")->good);
    it.strip.cols = 15;
    ck_assert(zone_warns(&it, "few-cells") && !it.carries);
    ck_assert_double_eq_tol(judged_figure(&it, "few-cells")->unusable, 16, 1e-9);
    judged_free(&it);
}
END_TEST

/* 400 px from the target's middle at 0.001 stops a px is 0.4 stops: 2^0.4 = 1.3195. */
START_TEST(uneven_light)
{
    judged it;
    judged_good(&it);
    it.calibration.middle[0] = 900;
    it.calibration.middle[1] = 500;
    it.calibration.drift[0] = 0.001;
    it.calibration.drift_var[0] = 1e-10;
    ck_assert(zone_warns(&it, "uneven-light") && it.carries);
    ck_assert_double_eq_tol(judged_figure(&it, "uneven-light")->value, 31.95, 0.01);
    it.calibration.drift_var[0] = 1e-7; /* 0.13 stops at 400 px: 32 % isn't beyond 10 % by twice 11 % */
    ck_assert(!zone_warns(&it, "uneven-light"));
    it.calibration.drift_var[0] = NAN;
    ck_assert(!zone_warns(&it, "uneven-light"));
    ck_assert(isnan(judged_figure(&it, "uneven-light")->value));
    it.calibration.light = (tdm_light){.degree = 2, .width = 1000, .height = 1000, .misfit = 0.05};
    ck_assert(!zone_warns(&it, "uneven-light")); /* taken out but for 3.5 % */
    ck_assert_double_eq_tol(judged_figure(&it, "uneven-light")->value, 3.526, 0.001);
    judged_free(&it);
}
END_TEST

/* A misfit of 0.2 stops is 14.9 %. A flat field is sure of it; greys 400 px off only as far as they show the
 * fall: 0.126 stops there are 10 %. */
START_TEST(light_taken_out)
{
    judged it;
    judged_good(&it);
    it.calibration.middle[0] = 900;
    it.calibration.middle[1] = 500;
    it.calibration.light = (tdm_light){.degree = 1, .width = 1000, .height = 1000, .misfit = 0.2};
    ck_assert(zone_warns(&it, "uneven-light"));
    it.calibration.method = TDM_CALIBRATION_GREY;
    ck_assert(zone_warns(&it, "uneven-light")); /* one grey and a flat field */
    it.calibration.drift_var[0] = 1e-7;
    it.calibration.drift_var[1] = it.calibration.drift_var[2] = 0;
    ck_assert(!zone_warns(&it, "uneven-light"));
    it.calibration.drift_var[0] = 1e-10;
    ck_assert(zone_warns(&it, "uneven-light"));
    judged_free(&it);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {
        a_good_zone_is_quiet,   burnt_out_and_black, used_share,      short_and_small_zones,
        few_cells_with_a_scale, uneven_light,        light_taken_out, NULL};
    return run_suite("quality of a zone", tests);
}
