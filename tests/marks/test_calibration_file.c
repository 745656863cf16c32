/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a number that changes on its way through the file, a name that carries its folder along. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "colour/drawn.h"
#include "colour/profiles.h"
#include "marks/made_calibration_file.h"
#include "suite.h"

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
    char *text = calibration_text(made, &made_origin);
    ck_assert_msg(parse_calibration(text, &warnings, &read, &origin, &error) == TDM_OK, "%s: %s", error.place,
                  error.text);
    ck_assert_uint_eq(warnings.count, 0);
    same(made, &read);
    ck_assert_str_eq(origin.photo, made_origin.photo);
    ck_assert_str_eq(origin.sha256, made_origin.sha256);
    ck_assert_str_eq(origin.profile, made_origin.profile);
    ck_assert_str_eq(origin.reference, made_origin.reference);
    ck_assert_str_eq(origin.taken, made_origin.taken);
    char *again = calibration_text(&read, &origin);
    ck_assert_str_eq(text, again);
    tdm_free(text);
    tdm_free(again);
}

START_TEST(every_number_comes_back)
{
    tdm_calibration made = numbered_calibration();
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
    const tdm_calibration made = numbered_calibration();
    tdm_calibration_origin odd = made_origin, origin;
    tdm_calibration read;
    tdm_warnings warnings = {0};
    tdm_error error = {0};
    strcpy(odd.photo, "/home/anna/fr\xfch\n.jpg");
    strcpy(odd.reference, "H\xc3\xa4nde.txt");
    odd.taken[0] = '\0';
    char *text = calibration_text(&made, &odd);
    ck_assert_ptr_null(strstr(text, "anna"));
    ck_assert_int_eq(parse_calibration(text, &warnings, &read, &origin, &error), TDM_OK);
    ck_assert_str_eq(origin.photo, "fr?h?.jpg");
    ck_assert_str_eq(origin.reference, odd.reference);
    ck_assert_str_eq(origin.taken, "");
    tdm_free(text);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {every_number_comes_back, real_fits_come_back, the_profile_alone_comes_back,
                                  names_are_stored_plainly, NULL};
    return run_suite("calibration file", tests);
}
