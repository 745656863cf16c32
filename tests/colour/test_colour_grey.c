/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: gains from a grey card, and the refusals of cards that can't carry them. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "colour/calibration.h"
#include "colour/drawn.h"
#include "colour/lab.h"
#include "colour/profiles.h"
#include "suite.h"

static const double square[8] = {10, 10, 50, 10, 50, 50, 10, 50};

static double light_of(double lstar)
{
    return pow((lstar + 16) / 116, 3);
}

static tdm_pixels card(const double linear[3])
{
    double encoded[3];
    for (int i = 0; i < 3; i++)
        encoded[i] = encode_srgb(linear[i]);
    return draw_even(16, encoded, 64, 64);
}

static tdm_code calibrate(const tdm_pixels *pixels, const tdm_grey *greys, size_t count, tdm_calibration *out,
                          tdm_warnings *warnings, tdm_error *error)
{
    tdm_device *device = srgb_device();
    const tdm_code code = tdm_calibrate_grey(device, pixels, greys, count, pixels->rect.width,
                                             pixels->rect.height, NULL, "photo.jpg", warnings, out, error);
    tdm_device_free(device);
    return code;
}

/* A card of L* 50 seen through known gains: they come back inverted. 1e-4 of the gain is the 16-bit code's
 * rounding (1/65535 at half range) after decoding. */
START_TEST(known_gains_come_back)
{
    const double y = light_of(50), gains[3] = {0.8, 1.0, 0.55};
    const double linear[3] = {y * gains[0], y * gains[1], y * gains[2]};
    tdm_pixels pixels = card(linear);
    const tdm_grey grey = {square, 4, 50};
    tdm_calibration fitted;
    tdm_warnings warnings = {0};
    ck_assert_int_eq(calibrate(&pixels, &grey, 1, &fitted, &warnings, NULL), TDM_OK);
    for (int i = 0; i < 3; i++)
        ck_assert_double_eq_tol(fitted.gain[i] * gains[i], 1, 1e-4);
    ck_assert_int_eq(fitted.method, TDM_CALIBRATION_GREY);
    ck_assert_uint_eq(warnings.count, 0);
    ck_assert(isnan(fitted.residual_mean) && isnan(fitted.before_mean));
    free(pixels.rgb16);
}
END_TEST

/* The same through pixels: the card reads L* 50 and neutral, another colour in that light as it is. 0.005 of
 * a unit: 16-bit rounding. */
START_TEST(the_light_is_taken_out)
{
    const double brown[3] = {26, 6, 11}, gains[3] = {0.8, 1.0, 0.55}, y = light_of(50);
    const double linear[3] = {y * gains[0], y * gains[1], y * gains[2]};
    double seen[3], lab[3];
    tdm_pixels pixels = card(linear);
    const tdm_grey grey = {square, 4, 50};
    tdm_calibration fitted;
    ck_assert_int_eq(calibrate(&pixels, &grey, 1, &fitted, NULL, NULL), TDM_OK);
    tdm_device *device = srgb_device();
    for (int which = 0; which < 2; which++) {
        const double fifty[3] = {50, 0, 0}, *truth = which ? brown : fifty;
        float rgb[3], xyz[3];
        linear_srgb_from_lab_d50(truth, seen);
        for (int i = 0; i < 3; i++)
            rgb[i] = (float)encode_srgb(seen[i] * gains[i]);
        tdm_device_to_xyz(device, rgb, xyz, 1);
        tdm_calibration_apply(&fitted, xyz, 1);
        const double in[3] = {(double)xyz[0], (double)xyz[1], (double)xyz[2]};
        tdm_xyz_to_lab(in, lab);
        for (int i = 0; i < 3; i++)
            ck_assert_double_eq_tol(lab[i], truth[i], 0.02); /* drawn with another D50: 0.01 */
    }
    tdm_device_free(device);
    free(pixels.rgb16);
}
END_TEST

/* Dust on a tenth of the card doesn't count: the trimmed mean. */
START_TEST(dust_does_not_count)
{
    const double y = light_of(50), linear[3] = {y, y, y}, dust[3] = {0.05, 0.05, 0.05};
    tdm_pixels pixels = card(linear);
    for (uint32_t row = 10; row < 50; row++) {
        for (uint32_t x = 10; x < 13; x++)
            set_pixel(&pixels, x, row, dust); /* 3 of 40 columns */
    }
    const tdm_grey grey = {square, 4, 50};
    tdm_calibration fitted;
    ck_assert_int_eq(calibrate(&pixels, &grey, 1, &fitted, NULL, NULL), TDM_OK);
    for (int i = 0; i < 3; i++)
        ck_assert_double_eq_tol(fitted.gain[i], 1, 1e-4);
    free(pixels.rgb16);
}
END_TEST

static void paint(tdm_pixels *pixels, uint32_t left, uint32_t right, double linear)
{
    const double e = encode_srgb(linear), encoded[3] = {e, e, e};
    for (uint32_t y = 0; y < pixels->rect.height; y++) {
        for (uint32_t x = left; x < right; x++)
            set_pixel(pixels, x, y, encoded);
    }
}

/* Seven cards under half the light, of two lightnesses, one of them stated wrongly: it is outweighed (the
 * gain of 2 comes back within 3 %, plain least squares would be off by 6 %), and a warning speaks. */
START_TEST(one_wrong_card_among_seven)
{
    const double dim[3] = {0.01, 0.01, 0.01};
    static const double lstar[7] = {40, 60, 40, 60, 40, 60, 60};
    static double areas[7][8];
    tdm_pixels pixels = draw_even(16, dim, 140, 60);
    tdm_grey greys[7];
    for (size_t i = 0; i < 7; i++) {
        const double left = 20.0 * (double)i + 2, right = left + 16;
        const double area[8] = {left, 5, right, 5, right, 55, left, 55};
        memcpy(areas[i], area, sizeof area);
        paint(&pixels, (uint32_t)(20 * i), (uint32_t)(20 * i + 20), light_of(lstar[i]) / 2);
        greys[i] = (tdm_grey){areas[i], 4, lstar[i]};
    }
    tdm_calibration fitted;
    tdm_warnings warnings = {0};
    ck_assert_int_eq(calibrate(&pixels, greys, 7, &fitted, &warnings, NULL), TDM_OK);
    ck_assert_double_eq_tol(fitted.gain[1], 2, 2e-4);
    ck_assert_uint_eq(warnings.count, 0);
    const double certain = fitted.u_lstar;
    greys[3].lstar = 72;
    ck_assert_int_eq(calibrate(&pixels, greys, 7, &fitted, &warnings, NULL), TDM_OK);
    ck_assert(tdm_warnings_have(&warnings, "grey-disagrees"));
    ck_assert_double_gt(fitted.u_lstar, certain);
    tdm_warnings_free(&warnings);
    free(pixels.rgb16);
}
END_TEST

static void refused(const double linear[3], const double *polygon, double lstar, const char *says)
{
    tdm_pixels pixels = card(linear);
    const double fine[8] = {2, 2, 8, 2, 8, 8, 2, 8}, y = light_of(50);
    for (uint32_t i = 0; i < 9; i++) {
        for (uint32_t j = 0; j < 9; j++) {
            const double e = encode_srgb(y), encoded[3] = {e, e, e};
            set_pixel(&pixels, i, j, encoded);
        }
    }
    const tdm_grey greys[2] = {{fine, 4, 50}, {polygon, 4, lstar}};
    tdm_calibration fitted = {.knots = -7};
    tdm_error error = {0};
    ck_assert_int_eq(calibrate(&pixels, greys, 2, &fitted, NULL, &error), TDM_ERR_UNUSABLE);
    ck_assert_msg(strstr(error.text, says) != NULL, "%s", error.text);
    ck_assert_str_eq(error.place, "grey[1]");
    ck_assert_int_eq(fitted.knots, -7); /* untouched */
    free(pixels.rgb16);
}

START_TEST(useless_cards_are_refused)
{
    const double y = light_of(50), fair[3] = {y, y, y}, blown[3] = {1, y, y}, black[3] = {0, 0, 0};
    const double red[3] = {0.6, 0.1, 0.1}, dim[3] = {y / 20, y / 20, y / 20};
    const double tiny[8] = {20, 20, 23, 20, 23, 23, 20, 23},
                 off[8] = {200, 200, 220, 200, 220, 220, 200, 220};
    refused(blown, square, 50, "clipped");
    refused(black, square, 50, "black");
    refused(red, square, 50, "strongly coloured");
    refused(dim, square, 50, "three stops");
    refused(fair, tiny, 50, "too small");
    refused(fair, off, 50, "too small");
    refused(fair, square, 0, "lstar");
    refused(fair, square, NAN, "lstar");
}
END_TEST

/* The uncertainty: the profile alone is worst; a card near hair in lightness beats a white one. */
START_TEST(uncertainty_has_an_order)
{
    const double mid = light_of(50), grey_light[3] = {mid, mid, mid};
    const double high = light_of(92), white_light[3] = {high, high, high};
    tdm_pixels grey_card = card(grey_light), white_card = card(white_light);
    const tdm_grey grey = {square, 4, 50}, white = {square, 4, 92};
    tdm_calibration by_grey, by_white;
    ck_assert_int_eq(calibrate(&grey_card, &grey, 1, &by_grey, NULL, NULL), TDM_OK);
    ck_assert_int_eq(calibrate(&white_card, &white, 1, &by_white, NULL, NULL), TDM_OK);
    tdm_device *device = srgb_device();
    const tdm_calibration none = tdm_calibration_none(device);
    ck_assert(none.u_lstar > by_white.u_lstar && by_white.u_lstar > by_grey.u_lstar && by_grey.u_lstar > 1);
    ck_assert(none.u_ab > by_grey.u_ab && by_grey.u_ab > 0);
    tdm_device_free(device);
    free(grey_card.rgb16);
    free(white_card.rgb16);
}
END_TEST

START_TEST(rectangle_of_a_polygon)
{
    const double inner[6] = {3.2, 4.7, 9.1, 4.9, 5, 8.01}, outer[6] = {-5, -5, 500, -5, 500, 500};
    const double beyond[6] = {300, 1, 310, 1, 310, 9};
    const tdm_rect a = tdm_polygon_rect(inner, 3, 100, 60), b = tdm_polygon_rect(outer, 3, 100, 60);
    ck_assert(a.x == 3 && a.y == 4 && a.width == 7 && a.height == 5);
    ck_assert(b.x == 0 && b.y == 0 && b.width == 100 && b.height == 60);
    ck_assert_uint_eq(tdm_polygon_rect(beyond, 3, 100, 60).width, 0);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {known_gains_come_back,     the_light_is_taken_out,
                                  dust_does_not_count,       one_wrong_card_among_seven,
                                  useless_cards_are_refused, uncertainty_has_an_order,
                                  rectangle_of_a_polygon,    NULL};
    return run_suite("grey", tests);
}
