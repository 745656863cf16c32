/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a threshold on its wrong side, a figure that warns though it is in doubt or only stated, a
 * photograph that is called usable beyond the harder bound. Each is tried from both sides. */
#include <math.h>
#include <string.h>

#include "measure/quality.h"
#include "measure/reading_parts.h"
#include "suite.h"

/* One zone of a photograph of which nothing is decoded: only what strip and calibration tell. */
typedef struct scene {
    double path[4], widths[2];
    tdm_zone_marks zone;
    tdm_marks marks;
    tdm_pixels pixels;
    tdm_photo_info photo;
    tdm_calibration calibration;
    tdm_quality_input input;
    tdm_strip strip;
    tdm_quality quality;
    tdm_warnings warnings;
    tdm_error error;
    bool carries;
} scene;

static void good(scene *it)
{
    static char name[] = "zone";
    *it = (scene){.path = {500, 100, 500, 900}, .widths = {80, 80}};
    it->zone = (tdm_zone_marks){.name = name, .path = {it->path, 2}, .widths = it->widths};
    it->marks = (tdm_marks){.zones = &it->zone, .zone_count = 1};
    it->photo = (tdm_photo_info){.width = 1000, .height = 1000, .jpeg_quality = 90};
    it->calibration = (tdm_calibration){.method = TDM_CALIBRATION_TARGET,
                                        .gain = {1, 1, 1},
                                        .residual_mean = 1,
                                        .left_out_mean = 2,
                                        .drift_var = {NAN}};
    it->input = (tdm_quality_input){.pixels = &it->pixels,
                                    .photo = &it->photo,
                                    .marks = &it->marks,
                                    .calibration = &it->calibration,
                                    .mm_per_px = 0.1};
    it->strip = (tdm_strip){.rows = 800,
                            .cols = 320,
                            .scaled = true,
                            .cell = 0.25,
                            .length = 200,
                            .width = 80,
                            .cell_px = 2.5,
                            .used_share = 1};
}

static void clear(scene *it)
{
    tdm_quality_free(&it->quality);
    tdm_warnings_free(&it->warnings);
    it->carries = false;
}

static void again(scene *it)
{
    clear(it);
    good(it);
}

static bool zone_warns(scene *it, const char *code)
{
    clear(it);
    ck_assert_int_eq(
        tdm_quality_zone(&it->input, 0, &it->strip, &it->quality, &it->warnings, &it->carries, &it->error),
        TDM_OK);
    return tdm_warnings_have(&it->warnings, code);
}

static bool photo_warns(scene *it, const char *code)
{
    clear(it);
    ck_assert_int_eq(tdm_quality_photo(&it->input, &it->quality, &it->warnings, &it->error), TDM_OK);
    return tdm_warnings_have(&it->warnings, code);
}

static const tdm_quality_figure *figure(const scene *it, const char *code)
{
    for (size_t i = 0; i < it->quality.count; i++) {
        if (strcmp(it->quality.items[i].code, code) == 0)
            return &it->quality.items[i];
    }
    ck_abort_msg("%s", code);
}

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

START_TEST(a_good_zone_is_quiet)
{
    scene it;
    good(&it);
    ck_assert(!zone_warns(&it, "zone-unusable") && it.carries);
    ck_assert_uint_eq(it.warnings.count, 0);
    ck_assert_uint_eq(it.quality.count, 5);
    ck_assert_str_eq(figure(&it, "clipped")->zone, "zone");
    clear(&it);
}
END_TEST

START_TEST(burnt_out_and_black)
{
    scene it;
    good(&it);
    it.strip.clipped_share = 0.009;
    ck_assert(!zone_warns(&it, "clipped") && it.carries);
    it.strip.clipped_share = 0.02;
    ck_assert(zone_warns(&it, "clipped") && it.carries);
    ck_assert_str_eq(it.warnings.items[0].text,
                     "2 % of the zone is burnt out and left out; expose less or turn the light");
    it.strip.clipped_share = 0.3;
    ck_assert(zone_warns(&it, "zone-unusable") && !it.carries);
    again(&it);
    it.strip.black_share = 0.04;
    ck_assert(!zone_warns(&it, "dark") && it.carries);
    it.strip.black_share = 0.06;
    ck_assert(zone_warns(&it, "dark") && it.carries);
    it.strip.black_share = 0.26;
    ck_assert(zone_warns(&it, "dark") && !it.carries);
    ck_assert(!it.quality.unusable); /* one zone doesn't spoil the photograph */
    clear(&it);
}
END_TEST

START_TEST(used_share)
{
    scene it;
    good(&it);
    it.strip.used_share = 0.71;
    ck_assert(!zone_warns(&it, "little-used") && it.carries);
    it.strip.used_share = 0.69;
    ck_assert(zone_warns(&it, "little-used") && it.carries);
    it.strip.used_share = 0.05;
    ck_assert(zone_warns(&it, "zone-unusable") && !it.carries);
    clear(&it);
}
END_TEST

START_TEST(short_and_small_zones)
{
    scene it;
    good(&it);
    it.strip.length = 29;
    ck_assert(zone_warns(&it, "short-zone") && it.carries);
    again(&it);
    it.strip.rows = 63;
    ck_assert(zone_warns(&it, "zone-unusable") && !it.carries);
    again(&it);
    it.strip.cols = 15;
    ck_assert(zone_warns(&it, "zone-unusable") && !it.carries);
    again(&it);
    it.strip.scaled = false;
    ck_assert(!zone_warns(&it, "few-cells") && it.carries);
    ck_assert_double_eq_tol(figure(&it, "few-cells")->value, 200, 1e-9);
    it.strip.rows = 100;
    ck_assert(zone_warns(&it, "few-cells") && it.carries);
    it.strip.cols = 15;
    ck_assert(zone_warns(&it, "few-cells") && !it.carries);
    clear(&it);
}
END_TEST

/* With a scale too, a zone that is refused for its cells has a figure that says so. */
START_TEST(few_cells_with_a_scale)
{
    scene it;
    good(&it);
    it.strip.cols = 31;
    ck_assert(zone_warns(&it, "few-cells") && it.carries && !figure(&it, "few-cells")->good);
    it.strip.cols = 15;
    ck_assert(zone_warns(&it, "few-cells") && !it.carries);
    ck_assert_double_eq_tol(figure(&it, "few-cells")->unusable, 16, 1e-9);
    clear(&it);
}
END_TEST

START_TEST(a_good_photograph_is_quiet)
{
    scene it;
    good(&it);
    ck_assert(!photo_warns(&it, "no-target"));
    ck_assert_uint_eq(it.warnings.count, 0);
    ck_assert(!it.quality.unusable);
    ck_assert(isnan(figure(&it, "focus")->value) && figure(&it, "focus")->good); /* nothing to tell it from */
    clear(&it);
}
END_TEST

START_TEST(photograph)
{
    scene it;
    good(&it);
    it.calibration.residual_mean = 3.1;
    ck_assert(photo_warns(&it, "target-residual"));
    ck_assert(!photo_warns(&it, "target-left-out"));
    it.calibration.left_out_mean = 5.1;
    ck_assert(photo_warns(&it, "target-left-out"));
    it.calibration.method = TDM_CALIBRATION_ICC;
    ck_assert(photo_warns(&it, "no-target"));
    ck_assert(!photo_warns(&it, "target-residual"));
    it.input.mm_per_px = 1 / 2.9;
    ck_assert(photo_warns(&it, "low-resolution") && !it.quality.unusable);
    it.input.mm_per_px = 1 / 2.9999; /* rounding of the marks */
    ck_assert(!photo_warns(&it, "low-resolution"));
    it.input.mm_per_px = 1 / 0.9;
    ck_assert(photo_warns(&it, "low-resolution") && it.quality.unusable);
    it.input.mm_per_px = NAN;
    it.quality.unusable = false;
    ck_assert(photo_warns(&it, "no-scale") && !it.quality.unusable);
    clear(&it);
}
END_TEST

START_TEST(compression)
{
    scene it;
    good(&it);
    it.photo.jpeg_quality = 71;
    ck_assert(!photo_warns(&it, "jpeg"));
    it.photo.jpeg_quality = 69;
    ck_assert(photo_warns(&it, "jpeg") && !it.quality.unusable);
    it.photo.jpeg_quality = 14;
    ck_assert(photo_warns(&it, "jpeg") && it.quality.unusable);
    it.photo.jpeg_quality = 0; /* a PNG */
    ck_assert(!photo_warns(&it, "jpeg"));
    ck_assert(isnan(figure(&it, "jpeg")->value));
    clear(&it);
}
END_TEST

/* Gains of 1 and 2^n are n stops apart. */
START_TEST(cast)
{
    scene it;
    good(&it);
    it.calibration.gain[0] = exp2(-1);
    it.calibration.gain[2] = exp2(0.9);
    ck_assert(!photo_warns(&it, "cast"));
    ck_assert_double_eq_tol(figure(&it, "cast")->value, 1.9, 1e-9);
    it.calibration.gain[2] = exp2(1.1);
    ck_assert(photo_warns(&it, "cast") && !it.quality.unusable);
    it.calibration.gain[2] = exp2(3.1);
    ck_assert(photo_warns(&it, "cast") && it.quality.unusable);
    clear(&it);
}
END_TEST

/* 400 px from the target's middle at 0.001 stops a px is 0.4 stops: 2^0.4 = 1.3195. */
START_TEST(uneven_light)
{
    scene it;
    good(&it);
    it.calibration.middle[0] = 900;
    it.calibration.middle[1] = 500;
    it.calibration.drift[0] = 0.001;
    it.calibration.drift_var[0] = 1e-10;
    ck_assert(zone_warns(&it, "uneven-light") && it.carries);
    ck_assert_double_eq_tol(figure(&it, "uneven-light")->value, 31.95, 0.01);
    it.calibration.drift_var[0] = 1e-7; /* 0.13 stops at 400 px: 32 % isn't beyond 10 % by twice 11 % */
    ck_assert(!zone_warns(&it, "uneven-light"));
    it.calibration.drift_var[0] = NAN;
    ck_assert(!zone_warns(&it, "uneven-light"));
    ck_assert(isnan(figure(&it, "uneven-light")->value));
    it.calibration.light = (tdm_light){.degree = 2, .width = 1000, .height = 1000, .misfit = 0.05};
    ck_assert(!zone_warns(&it, "uneven-light")); /* taken out but for 3.5 % */
    ck_assert_double_eq_tol(figure(&it, "uneven-light")->value, 3.526, 0.001);
    clear(&it);
}
END_TEST

/* A misfit of 0.2 stops is 14.9 %. A flat field is sure of it; greys 400 px off only as far as they show the
 * fall: 0.126 stops there are 10 %. */
START_TEST(light_taken_out)
{
    scene it;
    good(&it);
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
    clear(&it);
}
END_TEST

/* A threshold may be nearer than the row's, but by no more than half; never further. */
START_TEST(nearer_bound)
{
    static const double bounds[] = {0, 0.6, 0.1, 2}, thresholds[] = {0.8, 0.6, 0.4, 0.8};
    for (int i = 0; i < 4; i++) {
        scene it;
        good(&it);
        const tdm_quality_value value = {.value = 0.7, .bound = bounds[i]};
        ck_assert_int_eq(
            tdm_quality_add(&it.quality, TDM_QUALITY_HAIR_FOCUS_MM, &value, NULL, &it.warnings, &it.error),
            TDM_OK);
        ck_assert_double_eq_tol(figure(&it, "hair-focus")->threshold, thresholds[i], 1e-9);
        ck_assert_int_eq(tdm_warnings_have(&it.warnings, "hair-focus"), thresholds[i] < 0.7);
        clear(&it);
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

/* A target drawn without any blur, its edges on those of the pixels, its corners marked some px off: in
 * focus. */
START_TEST(as_sharp_as_can_be)
{
    tdm_reading *reading = NULL;
    tdm_error error = {0};
    const tdm_read_options options = {.limits = tdm_limits_default(), .resamples = 50, .seed = 1};
    ck_assert_int_eq(tdm_read_photo(TEST_DATA "/cli/target.jpg", NULL, &options, &reading, &error), TDM_OK);
    const scene it = {.quality = reading->quality};
    ck_assert_double_eq_tol(figure(&it, "focus")->value, 0.185, 0.02); /* 2.563 / sqrt(12) px of 0.25 mm */
    ck_assert(figure(&it, "focus")->good && figure(&it, "hair-focus")->good);
    ck_assert(isfinite(figure(&it, "hair-focus")->value));
    ck_assert(!tdm_warnings_have(&reading->warnings, "focus") && tdm_reading_usable(reading));
    tdm_reading_free(reading);
}
END_TEST

/* What is only stated has no threshold and is never wrong. */
START_TEST(stated)
{
    scene it;
    good(&it);
    const tdm_quality_value value = {.value = 1000, .stated = true};
    ck_assert_int_eq(
        tdm_quality_add(&it.quality, TDM_QUALITY_FOCUS_PX, &value, NULL, &it.warnings, &it.error), TDM_OK);
    ck_assert_uint_eq(it.warnings.count, 0);
    ck_assert(it.quality.items[0].good && isnan(it.quality.items[0].threshold) && !it.quality.unusable);
    clear(&it);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {rows_are_whole,
                                  a_good_zone_is_quiet,
                                  burnt_out_and_black,
                                  used_share,
                                  short_and_small_zones,
                                  few_cells_with_a_scale,
                                  a_good_photograph_is_quiet,
                                  photograph,
                                  compression,
                                  cast,
                                  uneven_light,
                                  light_taken_out,
                                  nearer_bound,
                                  codes_differ,
                                  as_sharp_as_can_be,
                                  stated,
                                  NULL};
    return run_suite("quality", tests);
}
