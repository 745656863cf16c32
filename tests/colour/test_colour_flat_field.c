/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: the surface of uneven light from a photograph of plain card, its place and orientation, and
 * the refusals of photographs that can't give one. */
#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "colour/drawn.h"
#include "colour/flat_field.h"
#include "colour/flat_parts.h"
#include "colour/profiles.h"
#include "photo/made.h"
#include "suite.h"

enum { WIDTH = 900, HEIGHT = 600 };

/* Light falls across the picture, and to its corners as by a lens; each channel its own way. The formula is
 * not the fitted one. */
static double light_at(double x, double y, int channel)
{
    const double u = x / WIDTH - 0.5, v = y / HEIGHT - 0.5;
    return 1 - 0.4 * (0.5 * u + 0.25 * v + u * u + v * v) + 0.05 * channel * u;
}

static unsigned code_of(double linear)
{
    const double code = 255 * encode_srgb(fmin(fmax(linear, 0), 1));
    return (unsigned)lround(code);
}

static double speck(unsigned x, unsigned y)
{
    uint32_t hash = (x * 73856093U) ^ (y * 19349663U);
    hash = (hash ^ (hash >> 13)) * 1274126177U;
    return (double)(hash >> 8) / 16777216 - 0.5;
}

static double card(unsigned x, unsigned y, int channel)
{
    return 0.4 * light_at(x + 0.5, y + 0.5, channel) * (1 + 0.06 * speck(x, y));
}

static unsigned plain(unsigned x, unsigned y, int channel)
{
    return code_of(card(x, y, channel));
}

/* A dark stain, a hand's breadth of paper and a bright edge, 4 % of the area together. */
static unsigned dusty(unsigned x, unsigned y, int channel)
{
    const bool stain = x > 200 && x < 290 && y > 400 && y < 480, edge = y < 12 || x > 890;
    return code_of(card(x, y, channel) * (stain ? 0.5 : (edge ? 1.5 : 1)));
}

static unsigned even(unsigned x, unsigned y, int channel)
{
    (void)channel;
    return code_of(0.4 * (1 + 0.06 * speck(x, y)));
}

static unsigned striped(unsigned x, unsigned y, int channel)
{
    return code_of(card(x, y, channel) * ((x / 60 + y / 60) % 2 ? 1.3 : 0.7));
}

static unsigned creased(unsigned x, unsigned y, int channel)
{
    return code_of(card(x, y, channel) * (1 + 0.09 * sin(x / 25.0)));
}

static unsigned bright(unsigned x, unsigned y, int channel)
{
    return code_of(2.4 * card(x, y, channel));
}

static unsigned dim(unsigned x, unsigned y, int channel)
{
    return code_of(0.015 * card(x, y, channel));
}

static unsigned half_filled(unsigned x, unsigned y, int channel)
{
    return code_of(card(x, y, channel) * (x > 600 ? 0.3 : 1));
}

typedef struct outcome {
    tdm_code code;
    tdm_error error;
    tdm_warnings warnings;
    tdm_light light;
} outcome;

static const double at[2] = {300, 450};

static outcome flat_of(made_sample *sample, unsigned width, unsigned height, bool bent)
{
    const made_png_plan plan = {.width = width, .height = height, .depth = 8, .type = 2, .sample = sample};
    const tdm_limits limits = tdm_limits_default();
    outcome out = {.light.degree = -7};
    made file = made_png(&plan);
    tdm_photo *photo = NULL;
    tdm_device *device = srgb_device();
    tdm_calibration calibration = tdm_calibration_none(device);
    if (bent) { /* cube roots to the power 1.2 of what they are */
        calibration.knots = 3;
        for (int c = 0; c < 3; c++) {
            const double in[3] = {0, 0.6, 1}, to[3] = {0, 0.72, 1.2}, slope[3] = {1.2, 1.2, 1.2};
            memcpy(calibration.curve_in[c], in, sizeof in);
            memcpy(calibration.curve_out[c], to, sizeof to);
            memcpy(calibration.curve_slope[c], slope, sizeof slope);
        }
    }
    ck_assert_int_eq(
        tdm_photo_open_memory(file.data, file.size, "flat.png", &limits, &out.warnings, &photo, &out.error),
        TDM_OK);
    out.code = tdm_flat_field(device, photo, &calibration, WIDTH, HEIGHT, at, "flat.png", &out.warnings,
                              &out.light, &out.error);
    tdm_photo_close(photo);
    tdm_device_free(device);
    free(file.data);
    return out;
}

/* Worst relative error of a factor over the picture against the drawn light. */
static double worst_factor(const tdm_light *light)
{
    double worst = 0;
    for (unsigned y = 0; y <= HEIGHT; y += 50) {
        for (unsigned x = 0; x <= WIDTH; x += 50) {
            double factors[3];
            tdm_light_at(light, x, y, factors);
            for (int c = 0; c < 3; c++) {
                const double truth = light_at(at[0], at[1], c) / light_at(x, y, c);
                worst = worse(worst, fabs(factors[c] / truth - 1));
            }
        }
    }
    return worst;
}

/* 1 %: 0.2 L* of middle grey. The drawn light itself runs over a factor of 1.9. A curve that multiplies all
 * light by a constant changes nothing. */
START_TEST(the_light_of_a_plain_card)
{
    for (int i = 0; i < 4; i++) {
        outcome found = flat_of(i & 1 ? dusty : plain, WIDTH, HEIGHT, i & 2);
        ck_assert_msg(found.code == TDM_OK, "%s", found.error.text);
        ck_assert_uint_eq(found.warnings.count, 0);
        ck_assert_double_lt(worst_factor(&found.light), 0.01);
        ck_assert_double_lt(found.light.misfit, 0.02);
        ck_assert(found.light.width == WIDTH && found.light.height == HEIGHT);
    }
}
END_TEST

/* Another size of the same shape does as well. 0.3 %: specks, over cells of 81 pixels. */
START_TEST(another_size)
{
    outcome found = flat_of(even, 450, 300, false);
    ck_assert_msg(found.code == TDM_OK, "%s", found.error.text);
    for (unsigned x = 0; x <= WIDTH; x += 100) {
        double factors[3];
        tdm_light_at(&found.light, x, 200, factors);
        ck_assert_double_eq_tol(factors[1], 1, 0.003);
    }
}
END_TEST

static void refused(made_sample *sample, unsigned width, unsigned height, const char *says)
{
    outcome found = flat_of(sample, width, height, false);
    ck_assert_int_eq(found.code, TDM_ERR_UNUSABLE);
    ck_assert_msg(strstr(found.error.text, says) != NULL, "%s", found.error.text);
    ck_assert_str_eq(found.error.file, "flat.png");
    ck_assert_int_eq(found.light.degree, -7); /* untouched */
}

START_TEST(useless_photographs_are_refused)
{
    refused(plain, 600, 900, "another shape");
    refused(plain, 900, 620, "another shape");
    refused(bright, WIDTH, HEIGHT, "clipped");
    refused(dim, WIDTH, HEIGHT, "too dark");
    refused(striped, WIDTH, HEIGHT, "isn't plain card");
    refused(half_filled, WIDTH, HEIGHT, "isn't plain card");
}
END_TEST

START_TEST(a_rough_card_is_warned_of)
{
    outcome found = flat_of(creased, WIDTH, HEIGHT, false);
    ck_assert_msg(found.code == TDM_OK, "%s", found.error.text);
    ck_assert(tdm_warnings_have(&found.warnings, "flat-field-rough"));
    ck_assert_double_gt(found.light.misfit, 0.05);
    tdm_warnings_free(&found.warnings);
}
END_TEST

/* Cells in light that falls by a stop to the right; `wrong` of them aren't numbers. */
static tdm_code fit_cells(size_t count, size_t wrong, tdm_light *light, tdm_error *error)
{
    tdm_flat_cell cells[9];
    ck_assert_uint_le(count, 9);
    for (size_t i = 0; i < count; i++) {
        cells[i] = (tdm_flat_cell){.x = 100.0 * (double)(i % 3) + 50, .y = 100.0 * (double)(i / 3) + 50};
        for (int c = 0; c < 3; c++)
            cells[i].stops[c] = i < wrong ? (double)NAN : -cells[i].x / 300;
    }
    *light = (tdm_light){.width = 300, .height = 300};
    return tdm_flat_fit(cells, count, "flat.png", light, error);
}

/* Five cells allow three terms and not six: what the lower degree found stands. 1e-6 stops: rounding. No
 * number at all is the card's fault, not the memory's. */
START_TEST(a_degree_that_fails_leaves_the_lower_ones)
{
    tdm_light light;
    tdm_error error = {0};
    ck_assert_msg(fit_cells(5, 0, &light, &error) == TDM_OK, "%s", error.text);
    ck_assert_int_eq(light.degree, 1);
    ck_assert_double_eq_tol(light.stops[1][1], -0.5, 1e-6);
    ck_assert_int_eq(fit_cells(9, 9, &light, &error), TDM_ERR_UNUSABLE);
    ck_assert_ptr_nonnull(strstr(error.text, "can't be fitted"));
    ck_assert_str_eq(error.file, "flat.png");
}
END_TEST

int main(void)
{
    (void)gsl_set_error_handler_off(); /* as the library's entries do */
    const TTest *const tests[] = {the_light_of_a_plain_card,
                                  another_size,
                                  useless_photographs_are_refused,
                                  a_rough_card_is_warned_of,
                                  a_degree_that_fails_leaves_the_lower_ones,
                                  NULL};
    return run_suite("flat field", tests);
}
