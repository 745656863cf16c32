/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a wrong value in a calibration file that is taken, or whose error names another key. */
#include <jansson.h>
#include <stdlib.h>
#include <string.h>

#include "marks/made_calibration_file.h"
#include "suite.h"

/* One change to a file that is right. */
typedef struct change {
    const char *path;  /* "light.stops.0": keys and indices */
    const char *value; /* JSON; NULL takes the key away */
    const char *place, *says;
} change;

#define NINE_ZEROS "[0,0,0,0,0,0,0,0,0]"
static const change changes[] = {
    {"tidemark_calibration", NULL, "tidemark_calibration", "is this a calibration file"},
    {"tidemark_calibration", "2", "tidemark_calibration", "newer"},
    {"fitted_on", NULL, "fitted_on", "is missing"},
    {"fitted_on", "[]", "fitted_on", "must be an object"},
    {"fitted_on.photo", NULL, "fitted_on.photo", "is missing"},
    {"fitted_on.photo", "\"\"", "fitted_on.photo", "without its folder"},
    {"fitted_on.photo", "\"a/b.jpg\"", "fitted_on.photo", "without its folder"},
    {"fitted_on.photo", "\"a\\u0007b\"", "fitted_on.photo", "printable"},
    {"fitted_on.sha256", "\"12\"", "fitted_on.sha256", "64 digits"},
    {"fitted_on.taken", "\"0123456789012345678901234\"", "fitted_on.taken", "1 to 23"},
    {"fitted_on.profile", "7", "fitted_on.profile", "must be text"},
    {"reference", NULL, "reference", "is missing"},
    {"method", "\"chart\"", "method", "\"target\""},
    {"method", "3", "method", "\"target\""},
    {"to_rgb", NULL, "to_rgb", "list of 9"},
    {"to_rgb", "[1,0,0,0,1,0,0,0]", "to_rgb", "list of 9"},
    {"to_rgb", NINE_ZEROS, "to_rgb", "inverted"},
    {"to_rgb.3", "\"0\"", "to_rgb[3]", "must be a number"},
    {"to_rgb.3", "1000", "to_rgb", "-100 to 100"},
    {"to_rgb.0", "1.5", "to_rgb", "three equal numbers"},
    {"curves", NULL, "curves", "three curves"},
    {"curves", "[{},{}]", "curves", "three curves"},
    {"curves.1", "4", "curves[1]", "must be an object"},
    {"curves.0.in", "[0]", "curves[0].in", "2 to 8"},
    {"curves.0.in", "[0,1,2,3,4,5,6,7,8]", "curves[0].in", "2 to 8"},
    {"curves.2.in", "[0,1]", "curves[2].in", "list of 8"},
    {"curves.1.in.0", "0.01", "curves[1].in", "rise from 0"},
    {"curves.1.in.7", "11", "curves[1].in", "10 at most"},
    {"curves.1.in.3", "0.9", "curves[1].in", "rise from 0"},
    {"curves.1.out.3", "0.01", "curves[1].out", "rise from 0"},
    {"curves.1.out.3", "null", "curves[1].out[3]", "must be a number"},
    {"curves.1.slope.3", "-0.1", "curves[1].slope", "0 to 100"},
    {"curves.1.slope.3", "60", "curves[1].slope", "fall between"},
    {"gain", "[1,1]", "gain", "list of 3"},
    {"gain.1", "0", "gain", "0.001 to 1000"},
    {"from_rgb", NINE_ZEROS, "from_rgb", "inverted"},
    {"from_rgb.8", "200", "from_rgb", "-100 to 100"},
    {"from_roots", "7", "from_roots", "list of 9"},
    {"from_roots.1", "0.3", "from_roots", "neutral"},
    {"from_roots.1", "-101", "from_roots", "-100 to 100"},
    {"light", "1", "light", "must be an object"},
    {"light.degree", "5", "light.degree", "1, 2, 3 or 4"},
    {"light.degree", "2", "light.stops[0]", "list of 6"},
    {"light.size", "[4000]", "light.size", "whole pixels"},
    {"light.size.1", "0", "light.size", "whole pixels"},
    {"light.stops", "[]", "light.stops", "three lists"},
    {"light.stops.1.3", "21", "light.stops[1]", "-20 to 20"},
    /* each within its bounds, and 60 stops at a corner */
    {"light.stops.0", "[20,20,20,0,0,0,0,0,0,0]", "light.stops", "within 8 stops"},
    {"light.stops.2.0", "-9", "light.stops", "within 8 stops"},
    {"light.misfit", "-1", "light.misfit", "0 to 5"},
    {"light.misfit", "1e300", "light.misfit", "0 to 5"},
    {"light.misfit", NULL, "light.misfit", "is missing"},
    {"drift.variance.0", "-1", "drift.variance", "covariance"},
    {"drift.variance.1", "1", "drift.variance", "covariance"},
    {"drift.variance", "[1e300,0,1e300]", "drift.variance", "-1 to 1"},
    {"drift.stops_per_px.1", "1e300", "drift.stops_per_px", "-1 to 1"},
    {"drift.middle.0", "1e300", "drift.middle", "a place"},
    {"drift.middle.1", "-1", "drift.middle", "a place"},
    {"drift.middle", "[1]", "drift.middle", "list of 2"},
    {"drift.stops_per_px", NULL, "drift.stops_per_px", "list of 2"},
    {"de00", NULL, "de00", "is missing"},
    {"de00.max", "-1", "de00.max", "0 to 1000"},
    {"de00.left_out_mean", "1e300", "de00.left_out_mean", "0 to 1000"},
    {"de00.hair_mean", "\"a\"", "de00.hair_mean", "must be a number"},
    {"u_lstar", "0", "u_lstar", "above 0"},
    {"u_lstar", "null", "u_lstar", "must be a number"},
    {"u_lstar", "101", "u_lstar", "100 at most"},
    {"u_ab", "-1", "u_ab", "above 0"},
    {"u_ab", "1e300", "u_ab", "100 at most"},
    {"u_ab", NULL, "u_ab", "is missing"},
};

/* The value's parent and the last step of the path. */
static json_t *parent_of(json_t *root, const char *path, char last[32])
{
    for (;;) {
        const size_t length = strcspn(path, ".");
        ck_assert_uint_lt(length, 32);
        memcpy(last, path, length);
        last[length] = '\0';
        if (path[length] == '\0')
            return root;
        root =
            json_is_array(root) ? json_array_get(root, strtoul(last, NULL, 10)) : json_object_get(root, last);
        ck_assert_ptr_nonnull(root);
        path += length + 1;
    }
}

static char *changed(const change *one)
{
    const tdm_calibration made = numbered_calibration();
    char last[32], *text = calibration_text(&made, &made_origin);
    json_t *root = json_loads(text, 0, NULL);
    json_t *parent = parent_of(root, one->path, last);
    json_t *value = one->value ? json_loads(one->value, JSON_DECODE_ANY, NULL) : NULL;
    ck_assert(!one->value == !value);
    if (json_is_array(parent))
        ck_assert_int_eq(json_array_set_new(parent, strtoul(last, NULL, 10), value), 0);
    else if (value)
        ck_assert_int_eq(json_object_set_new(parent, last, value), 0);
    else
        ck_assert_int_eq(json_object_del(parent, last), 0);
    tdm_free(text);
    text = json_dumps(root, JSON_REAL_PRECISION(17));
    json_decref(root);
    return text;
}

START_TEST(wrong_values_are_refused)
{
    char *text = changed(&changes[_i]);
    tdm_calibration read = {.knots = 77};
    tdm_calibration_origin origin = {.photo = "untouched"};
    tdm_warnings warnings = {0};
    tdm_error error = {0};
    const tdm_code code = parse_calibration(text, &warnings, &read, &origin, &error);
    ck_assert_msg(code == TDM_ERR_FORMAT, "%d %s: %d", _i, changes[_i].path, (int)code);
    ck_assert_msg(strcmp(error.place, changes[_i].place) == 0 && strstr(error.text, changes[_i].says),
                  "%d %s: %s %s", _i, changes[_i].path, error.place, error.text);
    ck_assert(read.knots == 77 && strcmp(origin.photo, "untouched") == 0);
    free(text);
    tdm_warnings_free(&warnings);
}
END_TEST

START_TEST(other_files_are_refused)
{
    static const change whole[] = {{NULL, "", "line 1, column 0", "valid JSON"},
                                   {NULL, "[]", "", "must be an object"},
                                   {NULL, "{\"u_ab\":1,\"u_ab\":1}", "line 1, column 16", "uplicate"},
                                   {NULL, "{\"u_ab\":1e999}", "line 1, column 13", "overflow"}};
    for (size_t i = 0; i < sizeof whole / sizeof whole[0]; i++) {
        tdm_calibration read;
        tdm_calibration_origin origin;
        tdm_warnings warnings = {0};
        tdm_error error = {0};
        ck_assert_int_eq(parse_calibration(whole[i].value, &warnings, &read, &origin, &error),
                         TDM_ERR_FORMAT);
        ck_assert_msg(strcmp(error.place, whole[i].place) == 0 && strstr(error.text, whole[i].says), "%s %s",
                      error.place, error.text);
    }
}
END_TEST

START_TEST(unknown_keys_warn_once)
{
    static const change added = {"de00.median", "1", NULL, NULL};
    char *text = changed(&added);
    tdm_calibration read;
    tdm_calibration_origin origin;
    tdm_warnings warnings = {0};
    tdm_error error = {0};
    ck_assert_int_eq(parse_calibration(text, &warnings, &read, &origin, &error), TDM_OK);
    ck_assert_uint_eq(warnings.count, 1);
    ck_assert_str_eq(warnings.items[0].code, "calibration-unknown-key");
    ck_assert_ptr_nonnull(strstr(warnings.items[0].text, "de00"));
    free(text);
    tdm_warnings_free(&warnings);
}
END_TEST

START_TEST(size_is_bounded)
{
    const tdm_calibration made = numbered_calibration();
    char *text = calibration_text(&made, &made_origin);
    tdm_limits limits = tdm_limits_default();
    tdm_calibration read;
    tdm_calibration_origin origin;
    tdm_warnings warnings = {0};
    tdm_error error = {0};
    limits.marks_bytes = strlen(text) - 1;
    ck_assert_int_eq(
        tdm_calibration_parse(text, strlen(text), "day.json", &limits, &warnings, &read, &origin, &error),
        TDM_ERR_LIMIT);
    ck_assert_int_eq(
        tdm_calibration_load(TEST_DATA "/marks/none.json", &limits, &warnings, &read, &origin, &error),
        TDM_ERR_UNREADABLE);
    tdm_free(text);
}
END_TEST

int main(void)
{
    TCase *all = patient_case("calibration file, wrong");
    tcase_add_loop_test(all, wrong_values_are_refused, 0, (int)(sizeof changes / sizeof changes[0]));
    tcase_add_test(all, other_files_are_refused);
    tcase_add_test(all, unknown_keys_warn_once);
    tcase_add_test(all, size_is_bounded);
    return run_case("calibration file, wrong", all);
}
