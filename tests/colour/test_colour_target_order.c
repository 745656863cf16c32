/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: corners in a wrong order that pass, or a refusal that doesn't help; perspective. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "colour/calibration.h"
#include "colour/drawn.h"
#include "colour/homography.h"
#include "colour/profiles.h"
#include "suite.h"

static void reference(double lab[PATCHES][3])
{
    double cells[PATCHES + 1][11];
    ck_assert_uint_eq(read_table("target24_lab_d50.csv", &cells[0][0], 11, PATCHES + 1), PATCHES);
    for (int i = 0; i < PATCHES; i++)
        memcpy(lab[i], cells[i] + 7, sizeof lab[i]);
}

static tdm_code calibrate(const tdm_pixels *pixels, const double corners[8], tdm_calibration *out,
                          tdm_error *error)
{
    tdm_warnings warnings = {0};
    tdm_device *device = srgb_device();
    const tdm_reference published = tdm_reference_published();
    const tdm_code code = tdm_calibrate_target(device, pixels, corners, &published, NULL, "photo.jpg",
                                               &warnings, out, NULL, error);
    tdm_device_free(device);
    tdm_warnings_free(&warnings);
    return code;
}

static tdm_pixels drawn(double corners[8], uint32_t pitch)
{
    double lab[PATCHES][3];
    const camera by = plain_camera();
    reference(lab);
    return draw_target(8, lab, &by, pitch, corners);
}

static void refused_as(tdm_code code, const char *place, const tdm_pixels *pixels, const double corners[8],
                       const char *says)
{
    tdm_error error = {0};
    tdm_calibration fitted = {.knots = -7};
    ck_assert_int_eq(calibrate(pixels, corners, &fitted, &error), code);
    ck_assert_msg(strstr(error.text, says) != NULL, "%s", error.text);
    ck_assert_str_eq(error.place, place);
    ck_assert_int_eq(fitted.knots, -7);
}

/* The photograph's fault. */
static void refused(const tdm_pixels *pixels, const double corners[8], const char *says)
{
    refused_as(TDM_ERR_UNUSABLE, "target", pixels, corners, says);
}

/* The marks' fault. */
static void refused_order(const tdm_pixels *pixels, const double corners[8], const char *says)
{
    refused_as(TDM_ERR_FORMAT, "target.corners", pixels, corners, says);
}

/* Which drawn corner (dark skin 0, bluish green 1, black 2, white 3) is marked first, second, third, fourth.
 */
START_TEST(the_other_seven_orders_are_refused)
{
    static const struct {
        int order[4];
        const char *says;
    } cases[] = {{{2, 3, 0, 1}, "upside down"},         {{1, 2, 3, 0}, "too late"},
                 {{3, 0, 1, 2}, "too early"},           {{1, 0, 3, 2}, "left and right"},
                 {{3, 2, 1, 0}, "top and bottom"},      {{0, 3, 2, 1}, "from the dark skin patch"},
                 {{2, 1, 0, 3}, "from the black patch"}};
    double corners[8];
    tdm_pixels pixels = drawn(corners, 24);
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        double marked[8];
        for (int k = 0; k < 4; k++) {
            marked[2 * k] = corners[2 * cases[i].order[k]];
            marked[2 * k + 1] = corners[2 * cases[i].order[k] + 1];
        }
        refused_order(&pixels, marked, cases[i].says);
        refused_order(&pixels, marked, "dark skin, bluish green, black, white");
    }
    free(pixels.rgb8);
}
END_TEST

/* A target that lies turned, or is mirrored in the picture, is fine as long as its corners are named right.
 */
START_TEST(a_turned_or_mirrored_target_is_read)
{
    double corners[8];
    tdm_pixels pixels = drawn(corners, 24);
    const uint32_t width = pixels.rect.width, height = pixels.rect.height;
    const size_t bytes = 3 * (size_t)width * height;
    uint8_t *upright = malloc(bytes);
    ck_assert_ptr_nonnull(upright);
    memcpy(upright, pixels.rgb8, bytes);
    for (int kind = 0; kind < 2; kind++) { /* half a turn; mirrored left to right */
        double marked[8];
        for (uint32_t y = 0; y < height; y++) {
            for (uint32_t x = 0; x < width; x++) {
                const uint32_t to_y = kind == 0 ? height - 1 - y : y;
                memcpy(pixels.rgb8 + 3 * ((size_t)to_y * width + width - 1 - x),
                       upright + 3 * ((size_t)y * width + x), 3);
            }
        }
        for (int k = 0; k < 4; k++) {
            marked[2 * k] = width - corners[2 * k];
            marked[2 * k + 1] = kind == 0 ? height - corners[2 * k + 1] : corners[2 * k + 1];
        }
        tdm_calibration fitted;
        ck_assert_int_eq(calibrate(&pixels, marked, &fitted, NULL), TDM_OK);
        ck_assert_double_lt(fitted.residual_mean, 0.2); /* 8-bit rounding */
    }
    free(upright);
    free(pixels.rgb8);
}
END_TEST

/* Seen aslant: each pixel of the picture is looked up on the plane, by a map inverted by hand below. */
START_TEST(perspective_is_followed)
{
    const double seen[8] = {60, 40, 340, 70, 310, 260, 80, 230};
    double lab[PATCHES][3], linear[3], encoded[3];
    const double dark[3] = {0.1, 0.1, 0.1};
    const camera by = plain_camera();
    tdm_homography map;
    reference(lab);
    ck_assert(tdm_homography_make(5.85, 3.85, seen, &map));
    tdm_pixels pixels = draw_even(8, dark, 400, 300);
    for (int i = 0; i < PATCHES; i++) { /* paint by fine steps over the plane */
        uint32_t seed = 1;
        linear_srgb_from_lab_d50(lab[i], linear);
        camera_sees(&by, linear, encoded, &seed);
        for (int k = 0; k < 200 * 200; k++) {
            double x, y;
            tdm_homography_at(&map, i % 6 + 0.85 * (k % 200) / 199, i / 6 + 0.85 * (k / 200) / 199, &x, &y);
            set_pixel(&pixels, (uint32_t)x, (uint32_t)y, encoded);
        }
    }
    tdm_calibration fitted;
    ck_assert_int_eq(calibrate(&pixels, seen, &fitted, NULL), TDM_OK);
    ck_assert_double_lt(fitted.residual_mean, 0.2);
    free(pixels.rgb8);
}
END_TEST

/* Corners go to corners, and the crossing of the diagonals to that of the diagonals, as a projective map
 * must. */
START_TEST(homography_by_its_invariants)
{
    const double seen[8] = {60, 40, 340, 70, 310, 260, 80, 230};
    const double at[4][2] = {{0, 0}, {6, 0}, {6, 4}, {0, 4}};
    tdm_homography map;
    double x, y;
    ck_assert(tdm_homography_make(6, 4, seen, &map));
    for (int i = 0; i < 4; i++) {
        tdm_homography_at(&map, at[i][0], at[i][1], &x, &y);
        ck_assert_double_eq_tol(x, seen[2 * i], 1e-9);
        ck_assert_double_eq_tol(y, seen[2 * i + 1], 1e-9);
    }
    /* diagonals 60,40 + p (250,220) and 340,70 + q (-260,160) */
    const double p = (280 * 160 + 260 * 30) / (250.0 * 160 + 260 * 220);
    tdm_homography_at(&map, 3, 2, &x, &y);
    ck_assert_double_eq_tol(x, 60 + 250 * p, 1e-9);
    ck_assert_double_eq_tol(y, 40 + 220 * p, 1e-9);
}
END_TEST

START_TEST(corners_that_are_no_block)
{
    double corners[8], off[8];
    tdm_pixels pixels = drawn(corners, 24);
    const double crossed[8] = {12, 12, 152, 12, 12, 104, 152, 104}, point[8] = {9, 9, 9, 9, 9, 9, 9, 9};
    const double odd[8] = {NAN, 1, 50, 1, 50, 50, 1, 50}, tiny[8] = {20, 20, 42, 20, 42, 35, 20, 35};
    refused(&pixels, crossed, "don't go round a block");
    refused(&pixels, point, "don't go round a block");
    refused(&pixels, odd, "don't go round a block");
    refused(&pixels, tiny, "too small");
    for (int i = 0; i < 8; i++)
        off[i] = corners[i] + 60;
    refused(&pixels, off, "reaches out of the picture");
    free(pixels.rgb8);
}
END_TEST

/* An even wall, and noise, are no target. */
START_TEST(no_target_no_calibration)
{
    const double even[3] = {0.5, 0.5, 0.5}, corners[8] = {10, 10, 150, 10, 150, 100, 10, 100};
    tdm_pixels pixels = draw_even(8, even, 170, 120);
    refused(&pixels, corners, "no neutral row");
    uint32_t seed = 7;
    for (size_t i = 0; i < 3 * (size_t)170 * 120; i++) {
        seed = seed * 1664525U + 1013904223U;
        pixels.rgb8[i] = (uint8_t)(seed >> 24);
    }
    refused(&pixels, corners, "no neutral row");
    free(pixels.rgb8);
}
END_TEST

/* Under a stop and a half too much light half of the patches are blown: refused with advice. */
START_TEST(a_blown_target_is_refused)
{
    double lab[PATCHES][3], corners[8];
    camera by = plain_camera();
    by.gain[0] = by.gain[1] = by.gain[2] = 3;
    reference(lab);
    tdm_pixels pixels = draw_target(8, lab, &by, 24, corners);
    refused(&pixels, corners, "less exposure");
    free(pixels.rgb8);
}
END_TEST

/* The neutral row is right but the colours aren't those of the target: absurd. */
START_TEST(another_chart_is_refused)
{
    double lab[PATCHES][3], corners[8];
    const camera by = plain_camera();
    reference(lab);
    for (int i = 0; i < 9; i++) {
        double keep[3];
        memcpy(keep, lab[i], sizeof keep);
        memcpy(lab[i], lab[17 - i], sizeof keep);
        memcpy(lab[17 - i], keep, sizeof keep);
    }
    tdm_pixels pixels = draw_target(8, lab, &by, 24, corners);
    refused(&pixels, corners, "isn't the 24-patch target");
    free(pixels.rgb8);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {the_other_seven_orders_are_refused,
                                  a_turned_or_mirrored_target_is_read,
                                  perspective_is_followed,
                                  homography_by_its_invariants,
                                  corners_that_are_no_block,
                                  no_target_no_calibration,
                                  a_blown_target_is_refused,
                                  another_chart_is_refused,
                                  NULL};
    return run_suite("target order", tests);
}
