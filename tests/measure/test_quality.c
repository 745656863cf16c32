/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a threshold on its wrong side. Each is tried from both. */
#include <math.h>
#include <string.h>

#include "measure/quality.h"
#include "suite.h"

static tdm_strip good_strip(void)
{
    return (tdm_strip){.rows = 800,
                       .cols = 320,
                       .scaled = true,
                       .cell = 0.25,
                       .length = 200,
                       .width = 80,
                       .cell_px = 2.5,
                       .used_share = 1};
}

static bool zone_warns(const tdm_strip *strip, const char *code, bool *carries)
{
    tdm_warnings warnings = {0};
    tdm_error error = {0};
    ck_assert_int_eq(tdm_quality_zone(strip, "zone", &warnings, carries, &error), TDM_OK);
    const bool have = tdm_warnings_have(&warnings, code);
    tdm_warnings_free(&warnings);
    return have;
}

static bool photo_warns(const tdm_marks *marks, const tdm_calibration *calibration, const char *code)
{
    tdm_warnings warnings = {0};
    tdm_error error = {0};
    ck_assert_int_eq(tdm_quality_photo(marks, calibration, &warnings, &error), TDM_OK);
    const bool have = tdm_warnings_have(&warnings, code);
    tdm_warnings_free(&warnings);
    return have;
}

START_TEST(a_good_zone_is_quiet)
{
    const tdm_strip strip = good_strip();
    tdm_warnings warnings = {0};
    tdm_error error = {0};
    bool carries = false;
    ck_assert_int_eq(tdm_quality_zone(&strip, "zone", &warnings, &carries, &error), TDM_OK);
    ck_assert(carries);
    ck_assert_uint_eq(warnings.count, 0);
}
END_TEST

START_TEST(clipping)
{
    tdm_strip strip = good_strip();
    bool carries = false;
    strip.clipped_share = 0.009;
    ck_assert(!zone_warns(&strip, "clipped", &carries) && carries);
    strip.clipped_share = 0.02;
    ck_assert(zone_warns(&strip, "clipped", &carries) && carries);
    strip.clipped_share = 0.3;
    ck_assert(zone_warns(&strip, "zone-unusable", &carries) && !carries);
}
END_TEST

START_TEST(used_share)
{
    tdm_strip strip = good_strip();
    bool carries = false;
    strip.used_share = 0.71;
    ck_assert(!zone_warns(&strip, "little-used", &carries) && carries);
    strip.used_share = 0.69;
    ck_assert(zone_warns(&strip, "little-used", &carries) && carries);
    strip.used_share = 0.05;
    ck_assert(zone_warns(&strip, "zone-unusable", &carries) && !carries);
}
END_TEST

START_TEST(short_and_small_zones)
{
    tdm_strip strip = good_strip();
    bool carries = false;
    strip.length = 29;
    ck_assert(zone_warns(&strip, "short-zone", &carries) && carries);
    strip = good_strip();
    strip.rows = 63;
    ck_assert(zone_warns(&strip, "zone-unusable", &carries) && !carries);
    strip = good_strip();
    strip.cols = 15;
    ck_assert(zone_warns(&strip, "zone-unusable", &carries) && !carries);
    strip = good_strip();
    strip.scaled = false;
    strip.rows = 100;
    ck_assert(zone_warns(&strip, "low-resolution", &carries) && carries);
}
END_TEST

START_TEST(photograph)
{
    tdm_marks marks = {.has_scale = true, .mm_per_px = 0.1};
    tdm_calibration calibration = {.method = TDM_CALIBRATION_TARGET, .residual_mean = 1};
    ck_assert(!photo_warns(&marks, &calibration, "no-target"));
    ck_assert(!photo_warns(&marks, &calibration, "no-scale"));
    ck_assert(!photo_warns(&marks, &calibration, "low-resolution"));
    ck_assert(!photo_warns(&marks, &calibration, "target-residual"));
    calibration.residual_mean = 3.1;
    ck_assert(photo_warns(&marks, &calibration, "target-residual"));
    calibration.method = TDM_CALIBRATION_ICC;
    ck_assert(photo_warns(&marks, &calibration, "no-target"));
    marks.mm_per_px = 0.34;
    ck_assert(photo_warns(&marks, &calibration, "low-resolution"));
    marks.has_scale = false;
    ck_assert(photo_warns(&marks, &calibration, "no-scale"));
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {a_good_zone_is_quiet,  clipping,   used_share,
                                  short_and_small_zones, photograph, NULL};
    return run_suite("quality", tests);
}
