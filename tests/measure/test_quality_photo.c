/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a photograph's threshold on its wrong side, a photograph that is called usable beyond the
 * harder bound. Each is tried from both sides. */
#include <math.h>

#include "measure/judged.h"
#include "suite.h"

START_TEST(a_good_photograph_is_quiet)
{
    judged it;
    judged_good(&it);
    ck_assert(!photo_warns(&it, "no-target"));
    ck_assert_uint_eq(it.warnings.count, 0);
    ck_assert(!it.quality.unusable);
    ck_assert(isnan(judged_figure(&it, "focus")->value) &&
              judged_figure(&it, "focus")->good); /* nothing to tell it from */
    judged_free(&it);
}
END_TEST

START_TEST(photograph)
{
    judged it;
    judged_good(&it);
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
    judged_free(&it);
}
END_TEST

START_TEST(compression)
{
    judged it;
    judged_good(&it);
    it.photo.jpeg_quality = 71;
    ck_assert(!photo_warns(&it, "jpeg"));
    it.photo.jpeg_quality = 69;
    ck_assert(photo_warns(&it, "jpeg") && !it.quality.unusable);
    it.photo.jpeg_quality = 14;
    ck_assert(photo_warns(&it, "jpeg") && it.quality.unusable);
    it.photo.jpeg_quality = 0; /* a PNG */
    ck_assert(!photo_warns(&it, "jpeg"));
    ck_assert(isnan(judged_figure(&it, "jpeg")->value));
    judged_free(&it);
}
END_TEST

/* Gains of 1 and 2^n are n stops apart. */
START_TEST(cast)
{
    judged it;
    judged_good(&it);
    it.calibration.gain[0] = exp2(-1);
    it.calibration.gain[2] = exp2(0.9);
    ck_assert(!photo_warns(&it, "cast"));
    ck_assert_double_eq_tol(judged_figure(&it, "cast")->value, 1.9, 1e-9);
    it.calibration.gain[2] = exp2(1.1);
    ck_assert(photo_warns(&it, "cast") && !it.quality.unusable);
    it.calibration.gain[2] = exp2(3.1);
    ck_assert(photo_warns(&it, "cast") && it.quality.unusable);
    judged_free(&it);
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
    const judged it = {.quality = reading->quality};
    ck_assert_double_eq_tol(judged_figure(&it, "focus")->value, 0.185,
                            0.02); /* 2.563 / sqrt(12) px of 0.25 mm */
    ck_assert(judged_figure(&it, "focus")->good && judged_figure(&it, "hair-focus")->good);
    ck_assert(isfinite(judged_figure(&it, "hair-focus")->value));
    ck_assert(!tdm_warnings_have(&reading->warnings, "focus") && tdm_reading_usable(reading));
    tdm_reading_free(reading);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {a_good_photograph_is_quiet, photograph, compression, cast,
                                  as_sharp_as_can_be,         NULL};
    return run_suite("quality of a photograph", tests);
}
