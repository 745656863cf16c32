/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: rows and offsets of a rectangle, flags, the folded tables against the long way, uneven light
 * taken out at the wrong place or in the wrong order. */
#include <math.h>
#include <stdlib.h>

#include "colour/calibration.h"
#include "colour/drawn.h"
#include "colour/lab.h"
#include "colour/matrix.h"
#include "colour/profiles.h"
#include "suite.h"

/* Every pixel its own colour. */
static tdm_pixels patterned(int bits, uint32_t width, uint32_t height)
{
    const double black[3] = {0};
    tdm_pixels pixels = draw_even(bits, black, width, height);
    for (uint32_t y = 0; y < height; y++) {
        for (uint32_t x = 0; x < width; x++) {
            const double rgb[3] = {(x * 37 % 256) / 255.0, (y * 53 % 256) / 255.0,
                                   ((x + y) * 11 % 256) / 255.0};
            set_pixel(&pixels, x, y, rgb);
        }
    }
    return pixels;
}

static void free_pixels(tdm_pixels *pixels)
{
    free(pixels->rgb8);
    free(pixels->rgb16);
    free(pixels->opaque);
}

/* A calibration with everything in it. */
static tdm_calibration bent(const tdm_device *device)
{
    tdm_calibration c = tdm_calibration_none(device);
    c.method = TDM_CALIBRATION_TARGET;
    c.knots = 3;
    for (int i = 0; i < 3; i++) {
        const double in[3] = {0, 0.5, 0.9 + 0.02 * i}, out[3] = {0, 0.55, 1}, slope[3] = {1.2, 1.1, 1};
        for (int k = 0; k < 3; k++) {
            c.curve_in[i][k] = in[k];
            c.curve_out[i][k] = out[k];
            c.curve_slope[i][k] = slope[k];
        }
        c.gain[i] = 1 + 0.1 * i;
    }
    return c;
}

/* Uneven in every channel its own way: up to a stop over the picture. */
static tdm_light uneven(uint32_t width, uint32_t height, int degree)
{
    tdm_light light = {.degree = degree, .width = width, .height = height};
    for (int c = 0; c < 3; c++) {
        light.stops[c][0] = 0.1;
        light.stops[c][1] = 0.4 - 0.1 * c;
        light.stops[c][2] = 0.2;
        light.stops[c][4] = -0.3 + 0.1 * c;
    }
    return light;
}

/* By the contract: curve, then light, then matrix and root terms. */
static void correct_one(const tdm_calibration *calibration, double x, double y, float *xyz)
{
    if (calibration->light.degree == 0) {
        tdm_calibration_apply(calibration, xyz, 1);
        return;
    }
    double triple[3] = {(double)xyz[0], (double)xyz[1], (double)xyz[2]}, factors[3], out[3];
    tdm_matrix_apply(calibration->to_rgb, triple, triple);
    tdm_light_at(&calibration->light, x, y, factors);
    for (int c = 0; c < 3; c++)
        triple[c] = factors[c] * tdm_calibration_channel(calibration, c, triple[c]);
    tdm_calibration_mix(calibration, triple, out);
    for (int c = 0; c < 3; c++)
        xyz[c] = (float)out[c];
}

/* Device to XYZ, then the calibration, one pixel at a time. 2e-6 of white is single precision. */
static double worst_in_rectangle(const tdm_device *device, const tdm_calibration *calibration,
                                 const tdm_pixels *pixels, tdm_rect rect)
{
    float *xyz = malloc(3 * sizeof *xyz * rect.width * rect.height);
    uint8_t *flags = malloc((size_t)rect.width * rect.height);
    double worst = 0;
    ck_assert(xyz && flags);
    ck_assert_int_eq(tdm_colour_convert(device, calibration, pixels, rect, xyz, flags, NULL), TDM_OK);
    for (uint32_t y = 0; y < rect.height; y++) {
        for (uint32_t x = 0; x < rect.width; x++) {
            const size_t from = 3 * ((size_t)(rect.y + y - pixels->rect.y) * pixels->rect.width + rect.x + x -
                                     pixels->rect.x);
            const float *got = xyz + 3 * ((size_t)y * rect.width + x);
            float rgb[3], one[3];
            for (size_t c = 0; c < 3; c++)
                rgb[c] = pixels->rgb8 ? pixels->rgb8[from + c] / 255.0F : pixels->rgb16[from + c] / 65535.0F;
            tdm_device_to_xyz(device, rgb, one, 1);
            correct_one(calibration, rect.x + x + 0.5, rect.y + y + 0.5, one);
            for (size_t c = 0; c < 3; c++)
                worst = worse(worst, fabs((double)(got[c] - one[c])));
        }
    }
    free(xyz);
    free(flags);
    return worst;
}

START_TEST(rectangles_and_tables_against_single_pixels)
{
    const icc lut = icc_lut();
    tdm_device *devices[2] = {srgb_device(), device_of(lut, false)};
    for (int i = 0; i < 32; i++) {
        const tdm_device *device = devices[i % 2];
        tdm_calibration calibration = i & 2 ? bent(device) : tdm_calibration_none(device);
        if (i & 8)
            calibration.light = uneven(1400, 400, i & 2 ? 4 : 1);
        calibration.rooted = (i & 16) != 0;
        if (calibration.rooted) {
            calibration.method = TDM_CALIBRATION_TARGET;
            for (int k = 0; k < 9; k++)
                calibration.from_roots[k] = 0.03 * (k - 4);
        }
        tdm_pixels pixels = patterned(i & 4 ? 16 : 8, 300, 260);
        pixels.rect.x = 1000;
        pixels.rect.y = 70;
        const tdm_rect whole = {1000, 70, 300, 260}, part = {1011, 83, 7, 5}; /* by table; the long way */
        ck_assert_double_lt(worst_in_rectangle(device, &calibration, &pixels, whole), 2e-6);
        ck_assert_double_lt(worst_in_rectangle(device, &calibration, &pixels, part), 2e-6);
        free_pixels(&pixels);
    }
    tdm_device_free(devices[0]);
    tdm_device_free(devices[1]);
    free(lut.bytes);
}
END_TEST

/* A calibration carried from a photograph in another colour space: large and small rectangles alike. */
START_TEST(another_spaces_calibration)
{
    const icc p3 = icc_display_p3();
    tdm_device *fitted = srgb_device(), *device = device_of(p3, false);
    tdm_calibration calibration = bent(fitted);
    for (int lit = 0; lit < 2; lit++) {
        if (lit)
            calibration.light = uneven(300, 260, 1);
        tdm_pixels pixels = patterned(8, 300, 260);
        ck_assert_double_lt(worst_in_rectangle(device, &calibration, &pixels, pixels.rect), 2e-6);
        free_pixels(&pixels);
    }
    tdm_device_free(fitted);
    tdm_device_free(device);
    free(p3.bytes);
}
END_TEST

/* A file may call anything "icc": curve, gains, matrix and root terms count, whatever the method's name, in
 * large and small rectangles alike. The truth is the formula, step by step. */
START_TEST(the_methods_name_changes_nothing)
{
    tdm_device *device = srgb_device();
    for (int i = 0; i < 4; i++) {
        tdm_calibration calibration = i == 0 ? bent(device) : tdm_calibration_none(device);
        calibration.method = TDM_CALIBRATION_ICC;
        if (i == 1)
            calibration.gain[2] = 1.5;
        calibration.rooted = i == 2;
        for (int k = 0; i == 2 && k < 9; k++)
            calibration.from_roots[k] = 0.03 * (k - 4);
        if (i == 3)
            calibration.from_rgb[1] += 0.05;
        const float seen[3] = {0.1F, 0.2F, 0.3F};
        float applied[3] = {seen[0], seen[1], seen[2]};
        double wanted[3] = {(double)seen[0], (double)seen[1], (double)seen[2]};
        tdm_matrix_apply(calibration.to_rgb, wanted, wanted);
        for (int c = 0; c < 3; c++)
            wanted[c] = tdm_calibration_channel(&calibration, c, wanted[c]);
        tdm_calibration_mix(&calibration, wanted, wanted);
        tdm_calibration_apply(&calibration, applied, 1);
        for (int k = 0; k < 3; k++) /* single precision */
            ck_assert_double_eq_tol((double)applied[k], wanted[k], 1e-6);
        tdm_pixels pixels = patterned(8, 300, 260);
        const tdm_rect part = {11, 13, 7, 5};
        ck_assert_double_lt(worst_in_rectangle(device, &calibration, &pixels, pixels.rect), 2e-6);
        ck_assert_double_lt(worst_in_rectangle(device, &calibration, &pixels, part), 2e-6);
        free_pixels(&pixels);
    }
    tdm_device_free(device);
}
END_TEST

/* Where a calibration starts is a matter of numbers: a profile of the same primaries is the same space. */
START_TEST(a_calibration_knows_its_space)
{
    const icc srgb = icc_srgb(), p3 = icc_display_p3();
    tdm_device *built_in = srgb_device(), *same = device_of(srgb, false), *other = device_of(p3, false);
    const tdm_calibration calibration = bent(built_in);
    ck_assert(tdm_calibration_starts_at(&calibration, built_in));
    ck_assert(tdm_calibration_starts_at(&calibration, same));
    ck_assert(!tdm_calibration_starts_at(&calibration, other));
    tdm_device_free(built_in);
    tdm_device_free(same);
    tdm_device_free(other);
    free(srgb.bytes);
    free(p3.bytes);
}
END_TEST

START_TEST(flags_say_what_is_wrong)
{
    tdm_device *device = srgb_device();
    const tdm_calibration none = tdm_calibration_none(device);
    for (int bits = 8; bits <= 16; bits += 8) {
        const double colours[4][3] = {{0.5, 0.5, 0.5}, {0.2, 1, 0.3}, {0, 0, 0}, {1, 0, 0}};
        const unsigned wanted[4] = {0, TDM_PIXEL_CLIPPED, TDM_PIXEL_BLACK | TDM_PIXEL_TRANSPARENT,
                                    TDM_PIXEL_CLIPPED};
        tdm_pixels pixels = draw_even(bits, colours[0], 4, 1);
        pixels.opaque = calloc(4, 1);
        ck_assert_ptr_nonnull(pixels.opaque);
        for (uint32_t x = 0; x < 4; x++) {
            set_pixel(&pixels, x, 0, colours[x]);
            pixels.opaque[x] = x != 2;
        }
        float xyz[12];
        uint8_t flags[4];
        ck_assert_int_eq(tdm_colour_convert(device, &none, &pixels, pixels.rect, xyz, flags, NULL), TDM_OK);
        for (int x = 0; x < 4; x++)
            ck_assert_uint_eq(flags[x], wanted[x]);
        free_pixels(&pixels);
    }
    tdm_device_free(device);
}
END_TEST

/* One brown in light that falls by 1.2 stops across the picture and bends: even to 16-bit rounding once the
 * light is known, whichever part is converted. 2e-5 of white in XYZ: a code is worth up to 3e-5 there. */
START_TEST(known_uneven_light_comes_out_even)
{
    static const double brown[3] = {0.12, 0.07, 0.04};
    tdm_device *device = srgb_device();
    tdm_pixels pixels = draw_even(16, brown, 320, 240);
    for (uint32_t y = 0; y < 240; y++) {
        for (uint32_t x = 0; x < 320; x++) {
            const double u = (x + 0.5 - 160) / 160, v = (y + 0.5 - 120) / 160;
            double encoded[3];
            for (int c = 0; c < 3; c++)
                encoded[c] = encode_srgb(brown[c] * pow(2, 0.6 * u + 0.1 * c * v - 0.2 * u * u));
            set_pixel(&pixels, x, y, encoded);
        }
    }
    tdm_calibration lit = tdm_calibration_none(device);
    lit.light = (tdm_light){.degree = 2, .width = 320, .height = 240};
    for (int c = 0; c < 3; c++) {
        lit.light.stops[c][1] = 0.6;
        lit.light.stops[c][2] = 0.1 * c;
        lit.light.stops[c][3] = -0.2;
    }
    const tdm_rect rects[2] = {{0, 0, 320, 240}, {200, 100, 70, 60}}; /* by table; the long way */
    static float xyz[3 * 320 * 240];
    static uint8_t flags[320 * 240];
    float first[3];
    for (int k = 0; k < 2; k++) {
        ck_assert_int_eq(tdm_colour_convert(device, &lit, &pixels, rects[k], xyz, flags, NULL), TDM_OK);
        double worst = 0;
        if (k == 0) {
            const double encoded[3] = {encode_srgb(brown[0]), encode_srgb(brown[1]), encode_srgb(brown[2])};
            const float rgb[3] = {(float)encoded[0], (float)encoded[1], (float)encoded[2]};
            tdm_device_to_xyz(device, rgb, first, 1);
        }
        for (size_t i = 0; i < 3 * (size_t)rects[k].width * rects[k].height; i++)
            worst = worse(worst, fabs((double)(xyz[i] - first[i % 3])));
        ck_assert_double_lt(worst, 2e-5);
    }
    free_pixels(&pixels);
    tdm_device_free(device);
}
END_TEST

/* The whole way in 8 bits: the check values of sRGB hair colours. 0.02 as their file says. */
START_TEST(pixels_to_lab)
{
    double cells[32][12];
    const size_t rows = read_table("srgb_lab_check.csv", &cells[0][0], 12, 32);
    tdm_device *device = srgb_device();
    const tdm_calibration none = tdm_calibration_none(device);
    for (size_t i = 0; i < rows; i++) {
        const double rgb[3] = {cells[i][0] / 255, cells[i][1] / 255, cells[i][2] / 255};
        tdm_pixels pixels = draw_even(8, rgb, 20, 20);
        static float xyz[1200], lab[1200];
        uint8_t flags[400];
        ck_assert_int_eq(tdm_colour_convert(device, &none, &pixels, pixels.rect, xyz, flags, NULL), TDM_OK);
        tdm_xyz_to_lab_many(xyz, lab, 400);
        for (int k = 0; k < 1200; k++)
            ck_assert_double_eq_tol((double)lab[k], cells[i][9 + k % 3], 0.02);
        free_pixels(&pixels);
    }
    tdm_device_free(device);
}
END_TEST

/* No calibration leaves the numbers alone; a curve keeps black black and goes on past white along its
 * tangent. */
START_TEST(curve_at_its_ends)
{
    tdm_device *device = srgb_device();
    const tdm_calibration c = bent(device), none = tdm_calibration_none(device);
    float xyz[3] = {0.1F, 0.2F, 0.3F};
    tdm_calibration_apply(&none, xyz, 1);
    ck_assert(xyz[0] == 0.1F && xyz[1] == 0.2F && xyz[2] == 0.3F);
    ck_assert_double_eq_tol(tdm_calibration_channel(&c, 0, 0), 0, 1e-15);
    ck_assert_double_lt(tdm_calibration_channel(&c, 0, -0.01), 0);
    ck_assert_double_eq_tol(tdm_calibration_channel(&c, 0, 0.729), 1, 1e-12); /* 0.9^3: the last knot */
    ck_assert_double_eq_tol(tdm_calibration_channel(&c, 0, 0.125), 0.166375, 1e-12); /* 0.55^3 */
    const double step = tdm_calibration_channel(&c, 0, 0.829) - tdm_calibration_channel(&c, 0, 0.779);
    ck_assert_double_eq_tol(step, 0.05 / 0.81, 1e-9); /* slope 1 in roots is (1 / 0.9)^2 in light */
    double last = -1;
    for (double in = -0.01; in < 1.2; in += 0.001) {
        const double now = tdm_calibration_channel(&c, 1, in);
        ck_assert(now > last);
        last = now;
    }
    tdm_device_free(device);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {rectangles_and_tables_against_single_pixels,
                                  another_spaces_calibration,
                                  the_methods_name_changes_nothing,
                                  a_calibration_knows_its_space,
                                  flags_say_what_is_wrong,
                                  known_uneven_light_comes_out_even,
                                  pixels_to_lab,
                                  curve_at_its_ends,
                                  NULL};
    return run_suite("convert", tests);
}
