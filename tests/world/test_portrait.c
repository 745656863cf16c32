/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One real photograph: a NASA portrait in the public domain (astronaut.png of Debian's python3-skimage),
 * golden brown hair, 512 by 512 pixels, no target, no scale. Would break: decoding, straightening or
 * averaging of a real picture, and the warnings that such a picture must bring. PORTRAIT is its path. */
#include <math.h>
#include <string.h>

#include "suite.h"
#include "tidemark/tidemark.h"

static tdm_reading *read_portrait(void)
{
    tdm_reading *reading = NULL;
    tdm_error error = {0};
    ck_assert_msg(tdm_read_photo(PORTRAIT, TEST_DATA "/world/astronaut.marks.json", NULL, &reading, &error) ==
                      TDM_OK,
                  "%s: %s: %s", error.file, error.place, error.text);
    return reading;
}

static double value(const tdm_reading *reading, size_t zone, const char *path, double *u)
{
    tdm_value found = {NAN, NAN};
    ck_assert_msg(tdm_zone_value(tdm_reading_zone(reading, zone), tdm_figure_find(path), &found), "%zu %s",
                  zone, path);
    if (u)
        *u = found.u;
    return found.value;
}

/* The mean linear light of the rectangle 190 28 80 24 is R 0.301884, G 0.224195, B 0.109371, computed apart
 * from this code from the decoded pixels. With sRGB's own white its L* is 55.322
 * (tests/data/world/photograph_roi_lab.csv, row crown, says 55.321); with the Bradford-adapted D50 matrix, as
 * an ICC profile has it, Y is 0.234464 and L* 55.535. In a zone of 24 columns the trim takes nothing. 0.01
 * for the profile's rounded colorants. */
START_TEST(mean_light_of_a_rectangle)
{
    tdm_reading *reading = read_portrait();
    ck_assert_double_eq_tol(value(reading, 0, "overall.lstar", NULL), 55.535, 0.01);
    tdm_reading_free(reading);
}
END_TEST

/* Brown hair in an uncalibrated studio photograph: the sides, away from the shine, must come out somewhere
 * from medium brown to medium blonde, and with an uncertainty that admits how little that says. */
START_TEST(level_is_plausible_and_unsure)
{
    tdm_reading *reading = read_portrait();
    double u = 0;
    for (size_t zone = 1; zone < 3; zone++) {
        const double level = value(reading, zone, "overall.level", &u);
        ck_assert_msg(level >= 4 && level <= 8, "zone %zu: level %g", zone, level);
        ck_assert_double_ge(u, 1);
    }
    tdm_reading_free(reading);
}
END_TEST

static bool warns(const tdm_reading *reading, const char *code)
{
    size_t count = 0;
    const tdm_warning *warnings = tdm_reading_warnings(reading, &count);
    for (size_t i = 0; i < count; i++) {
        if (strcmp(warnings[i].code, code) == 0)
            return true;
    }
    return false;
}

START_TEST(what_is_missing_is_said)
{
    tdm_reading *reading = read_portrait();
    tdm_value none;
    ck_assert(warns(reading, "no-target"));
    ck_assert(warns(reading, "no-scale"));
    ck_assert(warns(reading, "few-cells"));
    ck_assert(!tdm_zone_value(tdm_reading_zone(reading, 1), tdm_figure_find("gradient.centre_mm"), &none));
    ck_assert(!tdm_zone_value(tdm_reading_zone(reading, 1), tdm_figure_find("length_mm"), &none));
    tdm_calibration_facts calibration;
    tdm_reading_calibration(reading, &calibration);
    ck_assert_str_eq(calibration.method, "icc");
    tdm_reading_free(reading);
}
END_TEST

START_TEST(the_same_bytes_each_time)
{
    tdm_reading *first = read_portrait(), *second = read_portrait();
    char *a = NULL, *b = NULL;
    tdm_error error = {0};
    ck_assert_int_eq(tdm_reading_json(first, &a, &error), TDM_OK);
    ck_assert_int_eq(tdm_reading_json(second, &b, &error), TDM_OK);
    ck_assert_str_eq(a, b);
    tdm_free(a);
    tdm_free(b);
    tdm_reading_free(first);
    tdm_reading_free(second);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {mean_light_of_a_rectangle, level_is_plausible_and_unsure,
                                  what_is_missing_is_said, the_same_bytes_each_time, NULL};
    return run_suite("portrait", tests);
}
