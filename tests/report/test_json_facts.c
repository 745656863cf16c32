/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: what is said of photograph, calibration and quality lost or under another name, a file name
 * that makes the whole object fail. */
#include <string.h>

#include "compare/made_reading.h"
#include "report/parsed_json.h"
#include "suite.h"
#include "tidemark/version.h"

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

START_TEST(foreign_bytes_are_no_failure)
{
    tdm_reading *reading = made_reading("caf\xe9\n\"1\".jpg", 1);
    json_t *root = reading_json(reading);
    ck_assert_str_eq(json_string_value(at(root, "photo.file")), "caf\uFFFD\n\"1\".jpg");
    json_decref(root);
    tdm_reading_free(reading);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {facts_come_back, foreign_bytes_are_no_failure, NULL};
    return run_suite("json facts", tests);
}
