/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a number that changes on its way through the file, a wrong value that is taken or whose error
 * names another key. */
#include <jansson.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "colour/drawn.h"
#include "colour/profiles.h"
#include "marks/calibration_file.h"
#include "suite.h"

static const tdm_calibration_origin here = {
    .photo = "before.jpg",
    .sha256 = "00112233445566778899aabbccddeeff00112233445566778899aabbccddeeff",
    .profile = "Display P3",
    .reference = "measured, mine.txt",
    .taken = "2026:03:14 10:20:30"};

/* Numbers with no short decimal form, in every member. Working RGB here is XYZ over its white. */
static tdm_calibration full(void)
{
    static const double white[3] = {0.9642, 1, 0.8249}; /* ICC.1's D50 */
    tdm_calibration made = {.method = TDM_CALIBRATION_TARGET,
                            .knots = TDM_CURVE_KNOTS,
                            .gain = {1.0 / 3, 2.0 / 3, 1.1},
                            .rooted = true,
                            .light = {.degree = 3, .width = 4000, .height = 3000, .misfit = 0.01 / 3},
                            .drift = {1e-5 / 3, -2e-7 / 3},
                            .drift_var = {1e-12 / 7, -1e-13 / 7, 2e-12 / 7},
                            .middle = {1000.0 / 3, 0.1},
                            .before_mean = 10.0 / 3,
                            .before_max = 20.0 / 3,
                            .residual_mean = 0.7,
                            .residual_max = 2.1,
                            .left_out_mean = 1.1,
                            .hair_mean = 0.3,
                            .u_lstar = 0.5 / 3,
                            .u_ab = 0.6 / 7};
    for (int c = 0; c < 3; c++) {
        made.to_rgb[4 * c] = 1 / white[c];
        for (int k = 0; k < 3; k++) {
            made.from_rgb[3 * c + k] = white[c] * (k == c ? 1.1 : 0.05);
            made.from_roots[3 * c + k] = white[c] * -0.2 / 3;
        }
        for (int i = 0; i < TDM_CURVE_KNOTS; i++) {
            made.curve_in[c][i] = i / 7.0;
            made.curve_out[c][i] = pow(i / 7.0, 1.1 + 0.1 * c);
            made.curve_slope[c][i] = 1 + i / 70.0;
        }
        for (int i = 0; i < tdm_light_terms(3); i++)
            made.light.stops[c][i] = (i - 4) / 30.0;
    }
    return made;
}

static tdm_code parse(const char *text, tdm_warnings *warnings, tdm_calibration *out,
                      tdm_calibration_origin *origin, tdm_error *error)
{
    const tdm_limits limits = tdm_limits_default();
    return tdm_calibration_parse(text, strlen(text), "day.json", &limits, warnings, out, origin, error);
}

static char *write_text(const tdm_calibration *calibration, const tdm_calibration_origin *origin)
{
    char *text = NULL;
    tdm_error error = {0};
    ck_assert_msg(tdm_calibration_text(calibration, origin, &text, &error) == TDM_OK, "%s", error.text);
    return text;
}

static void same_numbers(const double *a, const double *b, size_t count)
{
    for (size_t i = 0; i < count; i++)
        ck_assert_msg(memcmp(&a[i], &b[i], sizeof a[i]) == 0 || (isnan(a[i]) && isnan(b[i])), "%zu: %a %a", i,
                      a[i], b[i]);
}

static void same(const tdm_calibration *a, const tdm_calibration *b)
{
    ck_assert(a->method == b->method && a->knots == b->knots && a->rooted == b->rooted);
    same_numbers(a->to_rgb, b->to_rgb, 9);
    same_numbers(a->from_rgb, b->from_rgb, 9);
    same_numbers(a->from_roots, b->from_roots, 9);
    same_numbers(a->curve_in[0], b->curve_in[0], 3 * TDM_CURVE_KNOTS);
    same_numbers(a->curve_out[0], b->curve_out[0], 3 * TDM_CURVE_KNOTS);
    same_numbers(a->curve_slope[0], b->curve_slope[0], 3 * TDM_CURVE_KNOTS);
    same_numbers(a->gain, b->gain, 3);
    ck_assert(a->light.degree == b->light.degree && a->light.width == b->light.width &&
              a->light.height == b->light.height);
    same_numbers(a->light.stops[0], b->light.stops[0], 3 * TDM_LIGHT_TERMS);
    same_numbers(&a->light.misfit, &b->light.misfit, 1);
    same_numbers(a->drift, b->drift, 2);
    same_numbers(a->drift_var, b->drift_var, 3);
    same_numbers(a->middle, b->middle, 2);
    same_numbers(&a->before_mean, &b->before_mean, 1);
    same_numbers(&a->before_max, &b->before_max, 1);
    same_numbers(&a->residual_mean, &b->residual_mean, 1);
    same_numbers(&a->residual_max, &b->residual_max, 1);
    same_numbers(&a->left_out_mean, &b->left_out_mean, 1);
    same_numbers(&a->hair_mean, &b->hair_mean, 1);
    same_numbers(&a->u_lstar, &b->u_lstar, 1);
    same_numbers(&a->u_ab, &b->u_ab, 1);
}

/* To the last bit, and the same text again. */
static void round_trip(const tdm_calibration *made)
{
    tdm_calibration read;
    tdm_calibration_origin origin;
    tdm_warnings warnings = {0};
    tdm_error error = {0};
    char *text = write_text(made, &here);
    ck_assert_msg(parse(text, &warnings, &read, &origin, &error) == TDM_OK, "%s: %s", error.place,
                  error.text);
    ck_assert_uint_eq(warnings.count, 0);
    same(made, &read);
    ck_assert_str_eq(origin.photo, here.photo);
    ck_assert_str_eq(origin.sha256, here.sha256);
    ck_assert_str_eq(origin.profile, here.profile);
    ck_assert_str_eq(origin.reference, here.reference);
    ck_assert_str_eq(origin.taken, here.taken);
    char *again = write_text(&read, &origin);
    ck_assert_str_eq(text, again);
    tdm_free(text);
    tdm_free(again);
}

START_TEST(every_number_comes_back)
{
    tdm_calibration made = full();
    round_trip(&made);
    made.rooted = false; /* gains alone, nothing known of light or target */
    made.knots = 0;
    memset(made.from_roots, 0, sizeof made.from_roots);
    memset(made.curve_in, 0, sizeof made.curve_in);
    memset(made.curve_out, 0, sizeof made.curve_out);
    memset(made.curve_slope, 0, sizeof made.curve_slope);
    made.method = TDM_CALIBRATION_GREY;
    made.light = (tdm_light){0};
    made.drift[0] = made.drift[1] = made.middle[0] = made.middle[1] = 0;
    made.drift_var[0] = made.drift_var[1] = made.drift_var[2] = NAN;
    made.before_mean = made.before_max = made.residual_mean = made.residual_max = NAN;
    made.left_out_mean = made.hair_mean = NAN;
    round_trip(&made);
}
END_TEST

/* What fits give is never refused. */
static void fit_and_return(const camera *by, int bits)
{
    const tdm_reference published = tdm_reference_published();
    tdm_device *device = srgb_device();
    double lab[PATCHES][3], corners[8];
    memcpy(lab, published.lab, sizeof lab);
    tdm_pixels pixels = draw_target(bits, lab, by, 40, corners);
    tdm_warnings warnings = {0};
    tdm_calibration fitted;
    tdm_error error = {0};
    ck_assert_msg(tdm_calibrate_target(device, &pixels, corners, &published, NULL, "a.jpg", &warnings,
                                       &fitted, NULL, &error) == TDM_OK,
                  "%s", error.text);
    for (int i = fitted.knots; i < TDM_CURVE_KNOTS; i++) { /* what no curve uses isn't stored */
        for (int c = 0; c < 3; c++)
            fitted.curve_in[c][i] = fitted.curve_out[c][i] = fitted.curve_slope[c][i] = 0;
    }
    round_trip(&fitted);
    free(pixels.rgb8);
    free(pixels.rgb16);
    tdm_warnings_free(&warnings);
    tdm_device_free(device);
}

START_TEST(real_fits_come_back)
{
    camera by = plain_camera();
    fit_and_return(&by, 16);
    by.contrast = 0.5;
    by.power = 1.1;
    by.gain[0] = 0.5;
    by.gain[2] = 0.3;
    by.noise = 0.01;
    fit_and_return(&by, 8);
}
END_TEST

START_TEST(the_profile_alone_comes_back)
{
    icc profile = icc_display_p3();
    tdm_device *device = device_of(profile, false);
    const tdm_calibration none = tdm_calibration_none(device);
    round_trip(&none);
    free(profile.bytes);
    tdm_device_free(device);
}
END_TEST

/* No folder, and names in any encoding. */
START_TEST(names_are_stored_plainly)
{
    const tdm_calibration made = full();
    tdm_calibration_origin odd = here, origin;
    tdm_calibration read;
    tdm_warnings warnings = {0};
    tdm_error error = {0};
    strcpy(odd.photo, "/home/anna/fr\xfch\n.jpg");
    strcpy(odd.reference, "H\xc3\xa4nde.txt");
    odd.taken[0] = '\0';
    char *text = write_text(&made, &odd);
    ck_assert_ptr_null(strstr(text, "anna"));
    ck_assert_int_eq(parse(text, &warnings, &read, &origin, &error), TDM_OK);
    ck_assert_str_eq(origin.photo, "fr?h?.jpg");
    ck_assert_str_eq(origin.reference, odd.reference);
    ck_assert_str_eq(origin.taken, "");
    tdm_free(text);
}
END_TEST

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
    const tdm_calibration made = full();
    char last[32], *text = write_text(&made, &here);
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
    const tdm_code code = parse(text, &warnings, &read, &origin, &error);
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
        ck_assert_int_eq(parse(whole[i].value, &warnings, &read, &origin, &error), TDM_ERR_FORMAT);
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
    ck_assert_int_eq(parse(text, &warnings, &read, &origin, &error), TDM_OK);
    ck_assert_uint_eq(warnings.count, 1);
    ck_assert_str_eq(warnings.items[0].code, "calibration-unknown-key");
    ck_assert_ptr_nonnull(strstr(warnings.items[0].text, "de00"));
    free(text);
    tdm_warnings_free(&warnings);
}
END_TEST

START_TEST(size_is_bounded)
{
    const tdm_calibration made = full();
    char *text = write_text(&made, &here);
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
    TCase *all = patient_case("calibration file");
    tcase_add_test(all, every_number_comes_back);
    tcase_add_test(all, real_fits_come_back);
    tcase_add_test(all, the_profile_alone_comes_back);
    tcase_add_test(all, names_are_stored_plainly);
    tcase_add_loop_test(all, wrong_values_are_refused, 0, (int)(sizeof changes / sizeof changes[0]));
    tcase_add_test(all, other_files_are_refused);
    tcase_add_test(all, unknown_keys_warn_once);
    tcase_add_test(all, size_is_bounded);
    return run_case("calibration file", all);
}
