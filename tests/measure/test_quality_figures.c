/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: noise, tilt, colour of light, block steps or the spread of strands that isn't the drawn one.
 */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "colour/drawn.h"
#include "measure/drawn_target.h"
#include "measure/quality_edges.h"
#include "measure/quality_parts.h"
#include "suite.h"

static double lstar_of_level(double level)
{
    const double light = decode_srgb(level / 255);
    return light > 216.0 / 24389 ? 116 * cbrt(light) - 16 : light * 24389 / 27;
}

/* Levels of noise, through the slope of L* over a level at each dark patch's own lightness. Three patches of
 * 17 by 17 pixels tell a standard deviation within 2.4 %; three of those. */
START_TEST(noise)
{
    static const double lights[] = {0.10, 0.09, 0.03}; /* as drawn: dark skin, neutral 3.5, black */
    static const double levels[] = {1, 3};
    for (int k = 0; k < 2; k++) {
        drawing how = {.width = 340, .height = 240, .noise = levels[k]};
        place_block(170, 120, 48, 10, how.corners);
        drawn_photo photo;
        tdm_error error = {0};
        double seen, squares = 0;
        for (int i = 0; i < 3; i++) {
            const double level = 255 * encode_srgb(lights[i]);
            const double slope = (lstar_of_level(level + 0.5) - lstar_of_level(level - 0.5)) * levels[k];
            squares += slope * slope;
        }
        draw(&how, &photo);
        photo.input.corners = how.corners;
        ck_assert_int_eq(tdm_quality_noise(&photo.input, &seen, &error), TDM_OK);
        ck_assert_double_eq_tol(seen / sqrt(squares / 3), 1, 0.075);
        drawn_free(&photo);
    }
}
END_TEST

static double normal(uint32_t *seed)
{
    double sum = -6;
    for (int i = 0; i < 12; i++) {
        *seed = *seed * 1664525U + 1013904223U;
        sum += (double)(*seed >> 8) / 16777216.0;
    }
    return sum;
}

/* A target that faces the camera, its corners half a pixel off at random: within twice the doubt in 19 of 20
 * cases or more, since the doubt is of both directions; and the doubt isn't idle. */
START_TEST(tilt_in_doubt)
{
    const tdm_photo_info info = {.width = 2000, .height = 1500};
    uint32_t seed = 5;
    int within = 0;
    double mean = 0, doubt;
    for (int trial = 0; trial < 400; trial++) {
        double corners[8] = {1300, 100, 1650, 100, 1650, 330.34, 1300, 330.34};
        const tdm_quality_input input = {.photo = &info, .corners = corners};
        for (int i = 0; i < 8; i++)
            corners[i] += 0.5 * normal(&seed);
        const double tilt = tdm_quality_tilt(&input, &doubt);
        within += tilt < 2 * doubt;
        mean += tilt / doubt / 400;
    }
    ck_assert_int_ge(within, 380);
    ck_assert_double_gt(mean, 0.5);
}
END_TEST

/* A plane of 5.85 by 3.85, tilted about an axis in it, through a pinhole. */
static void tilted(double degrees, double axis, double turn, double focal, double width, double height,
                   double corners[8])
{
    static const double at[8] = {-0.5, -0.5, 0.5, -0.5, 0.5, 0.5, -0.5, 0.5};
    const double rad = acos(-1) / 180, t = degrees * rad, a = axis * rad, r = turn * rad;
    for (int i = 0; i < 4; i++) {
        const double u = at[2 * i] * 5.85, v = at[2 * i + 1] * 3.85;
        const double p[2] = {cos(r) * u - sin(r) * v, sin(r) * u + cos(r) * v};
        const double along = p[0] * cos(a) + p[1] * sin(a), across = p[1] * cos(a) - p[0] * sin(a);
        const double x = along * cos(a) - across * cos(t) * sin(a) + 6;
        const double y = along * sin(a) + across * cos(t) * cos(a) - 3, z = 40 + across * sin(t);
        corners[2 * i] = width / 2 + focal * x / z;
        corners[2 * i + 1] = height / 2 + focal * y / z;
    }
}

/* 0.1 degrees of corners without error. A focal length too long by a quarter stretches depth, and with it the
 * tangent, by no more than that. */
START_TEST(tilt)
{
    static const double tilts[] = {0, 5, 12, 20, 30, 45};
    const double width = 4000, height = 3000, film = 28;
    double doubt;
    const double focal = film / sqrt(36 * 36 + 24 * 24) * 5000;
    tdm_photo_info info = {.width = 4000, .height = 3000, .focal_35mm = 28};
    for (size_t i = 0; i < sizeof tilts / sizeof tilts[0]; i++) {
        double corners[8];
        const tdm_quality_input input = {.photo = &info, .corners = corners};
        tilted(tilts[i], 20.0 * (double)i, 15, focal, width, height, corners);
        ck_assert_double_eq_tol(tdm_quality_tilt(&input, &doubt), tilts[i], 0.1);
        info.focal_35mm = 0; /* 35 mm is assumed then */
        const double longer = atan(35.0 / 28 * tan(tilts[i] * acos(-1) / 180)) * 180 / acos(-1);
        ck_assert_double_ge(tdm_quality_tilt(&input, &doubt), tilts[i] - 0.1);
        ck_assert_double_le(tdm_quality_tilt(&input, &doubt), longer + 0.1);
        info.focal_35mm = 28;
    }
    const tdm_quality_input none = {.photo = &info};
    ck_assert(isnan(tdm_quality_tilt(&none, &doubt)));
}
END_TEST

/* a* grows by 6 from left to right and by 4 downwards: 10 from corner to corner. */
START_TEST(light_over_the_target)
{
    drawn_photo photo;
    const drawing how = {.width = 8, .height = 8, .corners = {0, 0, 1, 0, 1, 1, 0, 1}};
    const tdm_reference reference = tdm_reference_published();
    tdm_patch_result results[TDM_PATCHES] = {0};
    tdm_error error = {0};
    double chroma, doubt;
    draw(&how, &photo);
    for (int i = 0; i < TDM_PATCHES; i++) {
        memcpy(results[i].after, reference.lab[i], sizeof results[i].after);
        results[i].after[1] += 6 * ((i % 6) / 5.0 - 0.5) + 4 * ((i / 6) / 3.0 - 0.5);
    }
    photo.input.results = results;
    photo.input.reference = &reference;
    ck_assert_int_eq(tdm_quality_mixed(&photo.input, &chroma, &doubt, &error), TDM_OK);
    ck_assert_double_eq_tol(chroma, 10, 1e-6);
    ck_assert_double_eq_tol(doubt, 0, 1e-4);
    /* Patches that are off by 2 either way in b* leave it in doubt: standard deviation sqrt(24 * 4 / 42)
     * = 1.51 each of a* and b*, over the diagonal times sqrt(1 / sum of x²/(1,1) terms) = 0.84. */
    for (int i = 0; i < TDM_PATCHES; i++)
        results[i].after[2] += (i + i / 6) % 2 ? 2 : -2;
    ck_assert_int_eq(tdm_quality_mixed(&photo.input, &chroma, &doubt, &error), TDM_OK);
    double xx = 0, yy = 0;
    for (int i = 0; i < TDM_PATCHES; i++) {
        xx += pow((i % 6) / 5.0 - 0.5, 2);
        yy += pow((i / 6) / 3.0 - 0.5, 2);
    }
    ck_assert_double_eq_tol(doubt, sqrt(24 * 4 / 42.0 * (1 / xx + 1 / yy)), 0.05);
    drawn_free(&photo);
}
END_TEST

/* A picture of 40 by 40 of one colour, a grey on it, and the target's correction. */
typedef struct card {
    drawn_photo photo;
    double corners[8];
    tdm_grey_marks grey;
} card;

static void card_start(card *it)
{
    const drawing how = {.width = 40, .height = 40, .corners = {0, 0, 1, 0, 1, 1, 0, 1}};
    static const double lab[3] = {50, 6, 8};
    double linear[3], encoded[3];
    *it = (card){.corners = {5, 5, 35, 5, 35, 35, 5, 35}};
    it->grey = (tdm_grey_marks){.polygon = {it->corners, 4}, .lstar = 50};
    draw(&how, &it->photo);
    linear_srgb_from_lab_d50(lab, linear);
    for (int i = 0; i < 3; i++)
        encoded[i] = encode_srgb(linear[i]);
    for (uint32_t i = 0; i < how.width * how.height; i++)
        set_pixel(&it->photo.pixels, i % how.width, i / how.width, encoded);
    it->photo.calibration.method = TDM_CALIBRATION_TARGET;
    it->photo.marks.greys = &it->grey;
    it->photo.marks.grey_count = 1;
}

static double mixed(const card *it, double *doubt)
{
    double chroma;
    tdm_error error = {0};
    ck_assert_int_eq(tdm_quality_mixed(&it->photo.input, &chroma, doubt, &error), TDM_OK);
    return chroma;
}

/* A grey card of L* 50, a* 6, b* 8 under the target's correction stands in other light: C* 10. */
START_TEST(light_at_a_grey)
{
    card it;
    double doubt;
    card_start(&it);
    ck_assert_double_eq_tol(mixed(&it, &doubt), 10, 0.02); /* of 16 bits and two ways to adapt the white */
    drawn_free(&it.photo);
}
END_TEST

/* Light that reddens from the picture's middle on, and a card in the middle: nothing to take out there. */
START_TEST(light_in_the_middle_of_a_grey)
{
    card it;
    double doubt;
    card_start(&it);
    it.photo.calibration.light = (tdm_light){.degree = 1, .width = 40, .height = 40};
    it.photo.calibration.light.stops[0][1] = 1; /* a stop from the middle to the side */
    ck_assert_double_eq_tol(mixed(&it, &doubt), 10, 0.02);
    drawn_free(&it.photo);
}
END_TEST

/* What is surely there counts, not what is larger and in doubt: 10 at the card, 15 or so give or take 8 over
 * the target. */
START_TEST(sure_before_large)
{
    card it;
    double doubt;
    const tdm_reference reference = tdm_reference_published();
    tdm_patch_result results[TDM_PATCHES] = {0};
    for (int i = 0; i < TDM_PATCHES; i++) {
        memcpy(results[i].after, reference.lab[i], sizeof results[i].after);
        results[i].after[1] += 15 * ((i % 6) / 5.0 - 0.5);
        results[i].after[2] += (i + i / 6) % 2 ? 9 : -9;
    }
    card_start(&it);
    it.photo.input.results = results;
    it.photo.input.reference = &reference;
    it.photo.calibration.u_ab = 0.5;
    ck_assert_double_eq_tol(mixed(&it, &doubt), 10, 0.02);
    ck_assert_double_eq_tol(doubt, 0.5, 1e-9);
    it.photo.calibration.u_ab = 20;
    ck_assert_double_gt(mixed(&it, &doubt), 14);
    ck_assert(doubt > 4 && doubt < 10);
    drawn_free(&it.photo);
}
END_TEST

static double uniform(uint32_t *seed)
{
    *seed = *seed * 1664525U + 1013904223U;
    return (double)(*seed >> 8) / 16777216.0;
}

/* A zone down the middle of a picture of 400 by 400. */
typedef struct hair {
    drawn_photo photo;
    double path[4], widths[2];
    tdm_zone_marks zone;
} hair;

static void hair_start(hair *it)
{
    static char name[] = "zone";
    const drawing how = {.width = 400, .height = 400, .corners = {0, 0, 1, 0, 1, 1, 0, 1}};
    *it = (hair){.path = {200, 20, 200, 380}, .widths = {200, 200}};
    draw(&how, &it->photo);
    it->zone = (tdm_zone_marks){.name = name, .path = {it->path, 2}, .widths = it->widths};
    it->photo.marks.zones = &it->zone;
    it->photo.marks.zone_count = 1;
}

static void grey_pixel(tdm_pixels *pixels, uint32_t x, uint32_t y, double lstar)
{
    const double light = pow((lstar + 16) / 116, 3);
    const double encoded[3] = {encode_srgb(light), encode_srgb(light), encode_srgb(light)};
    set_pixel(pixels, x, y, encoded);
}

/* Blocks off by up to 1 L* either way: two differ by 2/3 in the mean. The pixels beside a border have half of
 * that as their own, which spread over the other seven places takes off 1/7 of it. */
START_TEST(blocks)
{
    for (int on = 0; on <= 1; on++) {
        hair it;
        uint32_t seed = 3;
        double off[51][51], seen;
        tdm_error error = {0};
        hair_start(&it);
        for (int i = 0; i < 51 * 51; i++)
            off[i / 51][i % 51] = on * (2 * uniform(&seed) - 1);
        for (uint32_t y = 0; y < 400; y++) {
            for (uint32_t x = 0; x < 400; x++)
                grey_pixel(&it.photo.pixels, x, y, 40 + off[(y + 3) / 8][(x + 5) / 8]);
        }
        ck_assert_int_eq(tdm_quality_blocks(&it.photo.input, &seen, &error), TDM_OK);
        ck_assert_double_eq_tol(seen, on * 2.0 / 3 * 6 / 7, on ? 0.06 : 1e-9);
        drawn_free(&it.photo);
    }
}
END_TEST

/* Slanting strands 14 px wide, of random light, with Gaussian edges. */
static double strands_spread(double sigma, double grain)
{
    hair it;
    uint32_t seed = 11;
    double light[64];
    tdm_edge_spread spread;
    tdm_error error = {0};
    hair_start(&it);
    for (int i = 0; i < 64; i++)
        light[i] = i % 2 ? 0.05 + 0.05 * uniform(&seed) : 0.15 + 0.3 * uniform(&seed);
    for (uint32_t y = 0; y < 400; y++) {
        for (uint32_t x = 0; x < 400; x++) {
            const double slant = 0.2, across = (x + 0.5 + slant * (y + 0.5)) / sqrt(1 + slant * slant);
            double sum = light[0];
            for (int i = 1; i < 64; i++)
                sum += (light[i] - light[i - 1]) * 0.5 * erfc((14 * i - across) / sigma / sqrt(2));
            const double code = encode_srgb(sum) + grain * (uniform(&seed) + uniform(&seed) - 1);
            set_pixel(&it.photo.pixels, x, y, (double[3]){code, code, code});
        }
    }
    ck_assert_int_eq(tdm_spread_of_hair(&it.photo.input, &spread, &error), TDM_OK);
    drawn_free(&it.photo);
    return spread.sharp;
}

/* Edges far enough apart: 12 % (at 0.7 px the smoothing isn't the Gaussian that it is taken for). With noise
 * of 1 % of full scale 15 %. */
START_TEST(strands)
{
    static const double sigmas[] = {0.7, 1, 1.5, 2.5};
    for (int i = 0; i < 4; i++) {
        const double truth = sigmas[i], seen = strands_spread(truth, 0),
                     noisy = strands_spread(truth, 0.0245);
        ck_assert_msg(fabs(seen / truth - 1) < 0.12, "%g: %g", truth, seen);
        ck_assert_msg(fabs(noisy / truth - 1) < 0.2, "%g: %g, noise", truth, noisy);
    }
}
END_TEST

/* No edge in pixels is sharper than a pixel is wide. */
START_TEST(strands_sharper_than_pixels)
{
    ck_assert_double_ge(strands_spread(0.02, 0), 1 / sqrt(12) - 1e-6);
}
END_TEST

/* A picture of one or two pixels across has no line to look at; a checker of memory sees what is read beyond.
 */
START_TEST(thin_views)
{
    for (int i = 0; i < 4; i++) {
        hair it;
        tdm_edge_spread spread;
        tdm_error error = {0};
        hair_start(&it);
        it.photo.pixels.rect =
            i < 2 ? (tdm_rect){200, 0, (uint32_t)i + 1, 400} : (tdm_rect){0, 35, 400, (uint32_t)i - 1};
        ck_assert_int_eq(tdm_spread_of_hair(&it.photo.input, &spread, &error), TDM_OK);
        ck_assert(isnan(spread.sharp));
        drawn_free(&it.photo);
    }
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {noise,
                                  tilt,
                                  tilt_in_doubt,
                                  light_over_the_target,
                                  light_at_a_grey,
                                  light_in_the_middle_of_a_grey,
                                  sure_before_large,
                                  blocks,
                                  strands,
                                  strands_sharper_than_pixels,
                                  thin_views,
                                  NULL};
    return run_suite("quality figures", tests);
}
