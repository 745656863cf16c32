/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: tone from a step wedge, uneven light from greys of one lightness, the two kept apart, greys
 * beside a target. All pictures are drawn: lightness, light and camera are known. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "colour/drawn.h"
#include "colour/flat_field.h"
#include "colour/greys.h"
#include "colour/lab.h"
#include "colour/profiles.h"
#include "suite.h"

enum { WIDTH = 600, HEIGHT = 400, MOST = 16 };

/* A card 40 px square around x, y; said: the lstar that is stated for it. */
typedef struct card {
    double x, y, lstar, said;
} card;

typedef struct scene {
    tdm_pixels pixels;
    double polygons[MOST][8];
    tdm_grey greys[MOST];
    size_t count;
} scene;

static double light_of(double lstar)
{
    return pow((lstar + 16) / 116, 3);
}

/* Stops at a place: along[0] across half of the width, along[1] down as many pixels, 0 in the middle. */
static double stops_at(const double along[2], double x, double y)
{
    return along[0] * (x - WIDTH / 2.0) / (WIDTH / 2.0) + along[1] * (y - HEIGHT / 2.0) / (WIDTH / 2.0);
}

static void draw_card(scene *out, const card *one, const double along[2], const camera *by)
{
    uint32_t seed = by->seed;
    for (uint32_t y = (uint32_t)one->y - 20; y < (uint32_t)one->y + 20; y++) {
        for (uint32_t x = (uint32_t)one->x - 20; x < (uint32_t)one->x + 20; x++) {
            const double lit = light_of(one->lstar) * pow(2, stops_at(along, x + 0.5, y + 0.5));
            const double linear[3] = {lit, lit, lit};
            double seen[3];
            camera_sees(by, linear, seen, &seed);
            set_pixel(&out->pixels, x, y, seen);
        }
    }
}

static void draw(scene *out, const card *cards, size_t count, const double along[2], const camera *by)
{
    static const double dim[3] = {0.1, 0.1, 0.1};
    *out = (scene){.pixels = draw_even(16, dim, WIDTH, HEIGHT), .count = count};
    for (size_t i = 0; i < count; i++) {
        const double l = cards[i].x - 18, t = cards[i].y - 18, r = cards[i].x + 18, b = cards[i].y + 18;
        const double polygon[8] = {l, t, r, t, r, b, l, b};
        memcpy(out->polygons[i], polygon, sizeof polygon);
        out->greys[i] = (tdm_grey){out->polygons[i], 4, cards[i].said};
        draw_card(out, &cards[i], along, by);
    }
}

static tdm_calibration calibrated(const tdm_device *device, scene *drawn, tdm_warnings *warnings)
{
    tdm_calibration fitted;
    tdm_error error = {0};
    const tdm_code code = tdm_calibrate_grey(device, &drawn->pixels, drawn->greys, drawn->count, WIDTH,
                                             HEIGHT, NULL, "photo.jpg", warnings, &fitted, &error);
    ck_assert_msg(code == TDM_OK, "%s", error.text);
    return fitted;
}

/* CIELAB of a colour as it stands at x, y, as the calibration has it. */
static void read_back(const tdm_device *device, const tdm_calibration *fitted, const camera *by,
                      const double truth[3], const double along[2], double x, double y, double lab[3])
{
    double linear[3], seen[3];
    uint32_t seed = 1;
    linear_srgb_from_lab_d50(truth, linear);
    for (int c = 0; c < 3; c++)
        linear[c] *= pow(2, stops_at(along, x, y));
    camera_sees(by, linear, seen, &seed);
    tdm_pixels pixel = draw_even(16, seen, 1, 1);
    pixel.rect.x = (uint32_t)x;
    pixel.rect.y = (uint32_t)y;
    float xyz[3];
    uint8_t flags[1];
    ck_assert_int_eq(tdm_colour_convert(device, fitted, &pixel, pixel.rect, xyz, flags, NULL), TDM_OK);
    const double in[3] = {(double)xyz[0], (double)xyz[1], (double)xyz[2]};
    tdm_xyz_to_lab(in, lab);
    free(pixel.rgb16);
}

static double worst_lstar(const tdm_device *device, const tdm_calibration *fitted, const camera *by,
                          const double along[2])
{
    static const double hair[6][3] = {{16, 1, 1.5}, {22, 3, 4},  {30, 6, 9},
                                      {42, 8, 17},  {55, 7, 20}, {70, 5, 20}};
    static const double places[4][2] = {{60, 60}, {300, 200}, {540, 100}, {100, 340}};
    double worst = 0;
    for (int i = 0; i < 6; i++) {
        for (int k = 0; k < 4; k++) {
            double lab[3];
            read_back(device, fitted, by, hair[i], along, places[k][0], places[k][1], lab);
            worst = worse(worst, fabs(lab[0] - hair[i][0]));
        }
    }
    return worst;
}

static const double even[2] = {0, 0};
static const card wedge[6] = {{60, 60, 20, 20},  {110, 60, 35, 35}, {160, 60, 50, 50},
                              {210, 60, 65, 65}, {260, 60, 80, 80}, {310, 60, 95, 95}};

/* Cameras of every contrast: six steps leave hair within 0.2 L* (0.06 reached), where one card leaves
 * several; and nobody is warned of a card that is right. */
START_TEST(a_wedge_corrects_tone)
{
    tdm_device *device = srgb_device();
    for (int which = 0; which < 4; which++) {
        camera by = plain_camera();
        by.power = which == 0 ? 0.85 : (which == 1 ? 1.2 : 1);
        by.contrast = which >= 2 ? 0.3 * (which - 1) : 0;
        by.gain[0] = 0.85;
        by.gain[2] = 0.7;
        tdm_warnings warnings = {0};
        scene six, one;
        draw(&six, wedge, 6, even, &by);
        draw(&one, wedge + 2, 1, even, &by);
        const tdm_calibration by_six = calibrated(device, &six, &warnings);
        const tdm_calibration by_one = calibrated(device, &one, &warnings);
        ck_assert_uint_eq(warnings.count, 0);
        const double miss = worst_lstar(device, &by_six, &by, even),
                     single = worst_lstar(device, &by_one, &by, even);
        ck_assert_int_eq(by_six.knots, 7);
        ck_assert_double_lt(miss, 0.2);
        ck_assert_double_gt(single, 3);
        ck_assert_double_lt(by_six.u_lstar, by_one.u_lstar);
        ck_assert_double_gt(2 * by_six.u_lstar, miss);
        free(six.pixels.rgb16);
        free(one.pixels.rgb16);
    }
    tdm_device_free(device);
}
END_TEST

/* Three steps are the least, and steps that are nearly the same count as one. */
START_TEST(when_there_is_a_curve)
{
    const card three[3] = {wedge[0], wedge[2], wedge[5]};
    const card close[3] = {wedge[2], {210, 60, 53, 53}, wedge[5]};
    card fine[12];
    camera by = plain_camera();
    by.power = 1.1;
    tdm_device *device = srgb_device();
    scene drawn;
    draw(&drawn, three, 3, even, &by);
    ck_assert_int_eq(calibrated(device, &drawn, NULL).knots, 4);
    free(drawn.pixels.rgb16);
    draw(&drawn, close, 3, even, &by);
    ck_assert_int_eq(calibrated(device, &drawn, NULL).knots, 0);
    free(drawn.pixels.rgb16);
    for (int i = 0; i < 12; i++) {
        const double lstar = 18 + 6.5 * i;
        fine[i] = (card){40 + 45 * i, 60, lstar, lstar};
    }
    draw(&drawn, fine, 12, even, &by);
    const tdm_calibration many =
        calibrated(device, &drawn, NULL); /* merged into what the curve has room for */
    ck_assert_int_eq(many.knots, TDM_CURVE_KNOTS);
    ck_assert_double_lt(worst_lstar(device, &many, &by, even), 1);
    free(drawn.pixels.rgb16);
    tdm_device_free(device);
}
END_TEST

/* A step with a wrong lstar, inside and at either end, is named, or its neighbour at the end. */
START_TEST(a_wrong_step_is_named)
{
    static const struct {
        int which;
        double said;
        const char *names;
    } cases[3] = {{2, 57, "L* 57"}, {0, 29, "L* 29"}, {4, 89, "L* 95"}};
    const camera by = plain_camera();
    tdm_device *device = srgb_device();
    for (int i = 0; i < 3; i++) {
        card cards[6];
        tdm_warnings warnings = {0};
        scene drawn;
        memcpy(cards, wedge, sizeof cards);
        cards[cases[i].which].said = cases[i].said;
        draw(&drawn, cards, 6, even, &by);
        const tdm_calibration right = calibrated(device, &drawn, &warnings);
        ck_assert(tdm_warnings_have(&warnings, "grey-disagrees"));
        ck_assert_msg(strstr(warnings.items[0].text, cases[i].names), "%s", warnings.items[0].text);
        ck_assert(isfinite(right.u_lstar));
        tdm_warnings_free(&warnings);
        free(drawn.pixels.rgb16);
    }
    tdm_device_free(device);
}
END_TEST

/* Stops that the light differs by from x, y to the middle, by a calibration. */
static double found_stops(const tdm_calibration *fitted, double x, double y)
{
    double here[3], middle[3];
    tdm_light_at(&fitted->light, x, y, here);
    tdm_light_at(&fitted->light, WIDTH / 2.0, HEIGHT / 2.0, middle);
    return log2(middle[1] / here[1]);
}

/* Two cards at two ends: the light along their line is found (0.01 stops: the prior's pull), that across it
 * isn't, and its variance says so. */
START_TEST(two_cards_show_light_along_their_line)
{
    const card two[2] = {{80, 200, 50, 50}, {520, 200, 50, 50}};
    const double along[2] = {0.3, 0}, across[2] = {0, 0.3};
    const camera by = plain_camera();
    tdm_device *device = srgb_device();
    tdm_warnings warnings = {0};
    scene drawn;
    draw(&drawn, two, 2, along, &by);
    tdm_calibration fitted = calibrated(device, &drawn, &warnings);
    ck_assert_int_eq(fitted.light.degree, 1);
    ck_assert_double_eq_tol(found_stops(&fitted, 600, 200), 0.3, 0.01);
    ck_assert_double_eq_tol(found_stops(&fitted, 300, 0), 0, 1e-9);
    ck_assert_double_lt(worst_lstar(device, &fitted, &by, along), 0.3);
    ck_assert_double_lt(300 * sqrt(fitted.drift_var[0]), 0.04); /* along: two cards of 0.03 stops each */
    ck_assert_double_eq_tol(300 * sqrt(fitted.drift_var[2]), 0.5, 0.001); /* across: the prior */
    ck_assert_double_eq_tol(fitted.middle[0], 300, 1e-9);
    /* 0.44 stops between the two, a quarter of it in doubt, and a card's own 0.03 */
    ck_assert_double_eq_tol(fitted.light.misfit, hypot(0.03, 0.25 * 0.44), 0.003);
    free(drawn.pixels.rgb16);
    draw(&drawn, two, 2, across, &by);
    fitted = calibrated(device, &drawn, &warnings);
    ck_assert_int_eq(fitted.light.degree, 0);
    free(drawn.pixels.rgb16);
    ck_assert_uint_eq(warnings.count, 0);
    tdm_device_free(device);
}
END_TEST

/* A wedge and two more of its steps elsewhere, a camera of strong contrast: both come out, in all of the
 * picture. */
START_TEST(tone_and_light_are_told_apart)
{
    card cards[9];
    const double along[2] = {0.4, -0.25};
    camera by = plain_camera();
    by.contrast = 0.3;
    by.power = 1.1;
    memcpy(cards, wedge, sizeof wedge);
    cards[6] = (card){540, 340, 50, 50};
    cards[7] = (card){60, 340, 50, 50};
    cards[8] = (card){540, 60, 80, 80};
    tdm_device *device = srgb_device();
    tdm_warnings warnings = {0};
    scene drawn;
    draw(&drawn, cards, 9, along, &by);
    const tdm_calibration fitted = calibrated(device, &drawn, &warnings);
    ck_assert_uint_eq(warnings.count, 0);
    ck_assert_int_eq(fitted.light.degree, 1);
    ck_assert_double_eq_tol(found_stops(&fitted, 540, 340) - found_stops(&fitted, 60, 60),
                            stops_at(along, 540, 340) - stops_at(along, 60, 60), 0.06);
    ck_assert_double_lt(worst_lstar(device, &fitted, &by, along), 2);
    free(drawn.pixels.rgb16);
    tdm_device_free(device);
}
END_TEST

/* Two cards at the picture's edges, the light falling towards both by 0.4 stops: they can't show it, and hair
 * in the middle is read too light; once the light is known it isn't. 0.3 L*: the card's own size. */
START_TEST(known_light_counts_before_the_greys)
{
    const card two[2] = {{40, 200, 50, 50}, {560, 200, 50, 50}};
    const camera by = plain_camera();
    const double hair[3] = {30, 6, 9};
    tdm_light bowl = {.degree = 2, .width = WIDTH, .height = HEIGHT};
    tdm_device *device = srgb_device();
    scene drawn;
    draw(&drawn, two, 2, even, &by);
    for (int c = 0; c < 3; c++)
        bowl.stops[c][3] = -0.4;
    for (int i = 0; i < 2; i++) {
        const double u = (two[i].x - WIDTH / 2.0) / (WIDTH / 2.0);
        const double light = light_of(50) * pow(2, -0.4 * u * u);
        const card dimmed = {two[i].x, two[i].y, 116 * cbrt(light) - 16, 50};
        draw_card(&drawn, &dimmed, even, &by);
    }
    tdm_calibration fitted = calibrated(device, &drawn, NULL);
    double lab[3];
    read_back(device, &fitted, &by, hair, even, 300, 200, lab);
    ck_assert_double_gt(lab[0], 32);
    ck_assert_int_eq(tdm_calibrate_grey(device, &drawn.pixels, drawn.greys, 2, WIDTH, HEIGHT, &bowl,
                                        "photo.jpg", NULL, &fitted, NULL),
                     TDM_OK);
    ck_assert_int_eq(fitted.light.degree, 2);
    read_back(device, &fitted, &by, hair, even, 300, 200, lab);
    ck_assert_double_eq_tol(lab[0], 30, 0.3);
    free(drawn.pixels.rgb16);
    tdm_device_free(device);
}
END_TEST

/* Two cards of two lightnesses say nothing of light against tone: gains, and a warning where they disagree.
 */
START_TEST(two_lightnesses_show_no_light)
{
    const card two[2] = {{80, 200, 50, 50}, {520, 200, 80, 80}};
    const double along[2] = {0.4, 0};
    const camera by = plain_camera();
    tdm_device *device = srgb_device();
    tdm_warnings warnings = {0};
    scene drawn;
    draw(&drawn, two, 2, along, &by);
    const tdm_calibration fitted = calibrated(device, &drawn, &warnings);
    ck_assert(fitted.light.degree == 0 && fitted.knots == 0 && isnan(fitted.drift_var[0]));
    ck_assert(tdm_warnings_have(&warnings, "grey-disagrees"));
    tdm_warnings_free(&warnings);
    free(drawn.pixels.rgb16);
    tdm_device_free(device);
}
END_TEST

START_TEST(more_than_a_stop_is_warned_of)
{
    const card two[2] = {{80, 200, 50, 50}, {520, 200, 50, 50}};
    const double steep[2] = {0.9, 0};
    const camera by = plain_camera();
    tdm_device *device = srgb_device();
    tdm_warnings warnings = {0};
    scene drawn;
    draw(&drawn, two, 2, steep, &by);
    ck_assert_int_eq(calibrated(device, &drawn, &warnings).light.degree, 1);
    ck_assert(tdm_warnings_have(&warnings, "light-uneven"));
    ck_assert_ptr_nonnull(strstr(warnings.items[0].text, "1.3 stops"));
    tdm_warnings_free(&warnings);
    free(drawn.pixels.rgb16);
    tdm_device_free(device);
}
END_TEST

/* Five cards of one lightness, one stated wrongly by 0.6 stops: the light stays within 0.1 stops. */
START_TEST(one_wrong_card_among_equals)
{
    const card cards[5] = {
        {80, 80, 50, 50}, {520, 80, 50, 50}, {80, 320, 50, 50}, {520, 320, 50, 50}, {300, 200, 50, 51}};
    const double along[2] = {0.3, 0.1};
    const camera by = plain_camera();
    tdm_device *device = srgb_device();
    tdm_warnings warnings = {0};
    scene drawn;
    draw(&drawn, cards, 5, along, &by);
    drawn.pixels.rect.x = 0;
    const card dirty = {520, 320, 40, 50}; /* a shadow on it */
    draw_card(&drawn, &dirty, along, &by);
    const tdm_calibration fitted = calibrated(device, &drawn, &warnings);
    ck_assert_double_eq_tol(found_stops(&fitted, 520, 80), stops_at(along, 520, 80), 0.1);
    ck_assert_double_eq_tol(found_stops(&fitted, 80, 320), stops_at(along, 80, 320), 0.1);
    ck_assert(tdm_warnings_have(&warnings, "grey-disagrees"));
    tdm_warnings_free(&warnings);
    free(drawn.pixels.rgb16);
    tdm_device_free(device);
}
END_TEST

/* Beside a target (here: a perfect camera, the light 1 at the target's middle). */
START_TEST(greys_beside_a_target)
{
    const card two[2] = {{80, 100, 50, 50}, {520, 100, 50, 50}};
    const double along[2] = {0.4, 0}, at[2] = {150, 200};
    camera by = plain_camera();
    tdm_device *device = srgb_device();
    const tdm_calibration exact = tdm_calibration_none(device);
    tdm_light light = {0};
    bool used = true;
    tdm_warnings warnings = {0};
    scene drawn;
    for (int c = 0; c < 3; c++)
        by.gain[c] = pow(2, -stops_at(along, at[0], at[1]));
    draw(&drawn, two, 2, along, &by);
    ck_assert_int_eq(tdm_greys_light(device, &drawn.pixels, &exact, drawn.greys, 2, WIDTH, HEIGHT, at, "f",
                                     &warnings, &light, &used, NULL),
                     TDM_OK);
    ck_assert(used && light.degree == 1);
    double factors[3];
    tdm_light_at(&light, 450, 200, factors); /* 0.02 stops: the priors' pull */
    ck_assert_double_eq_tol(-log2(factors[1]), 0.4, 0.02);
    tdm_light_at(&light, at[0], at[1], factors);
    ck_assert_double_eq_tol(factors[0], 1, 1e-12);
    ck_assert_int_eq(tdm_greys_light(device, &drawn.pixels, &exact, drawn.greys, 1, WIDTH, HEIGHT, at, "f",
                                     &warnings, &light, &used, NULL),
                     TDM_OK);
    ck_assert(!used); /* one grey: a card's tilt as well as light */
    tdm_calibration lit = exact;
    ck_assert_int_eq(tdm_greys_check(device, &drawn.pixels, &exact, drawn.greys, 2, "f", &warnings, NULL),
                     TDM_OK);
    ck_assert_uint_eq(warnings.count, 1);
    ck_assert_str_eq(warnings.items[0].code, "grey-disagrees");
    ck_assert_ptr_nonnull(strstr(warnings.items[0].text, "grey[1]"));
    lit.light = light;
    ck_assert_int_eq(tdm_greys_check(device, &drawn.pixels, &lit, drawn.greys, 2, "f", &warnings, NULL),
                     TDM_OK);
    ck_assert_uint_eq(warnings.count, 1); /* nothing new */
    tdm_warnings_free(&warnings);
    free(drawn.pixels.rgb16);
    tdm_device_free(device);
}
END_TEST

/* Even light with half a unit of L* between cards: nothing to take out, nothing to warn of; a coloured card
 * is one. */
START_TEST(even_light_beside_a_target)
{
    const card two[2] = {{80, 100, 50, 50.4}, {520, 100, 50, 49.6}};
    const double at[2] = {300, 200};
    camera by = plain_camera();
    tdm_device *device = srgb_device();
    const tdm_calibration exact = tdm_calibration_none(device);
    tdm_light light;
    bool used = true;
    tdm_warnings warnings = {0};
    scene drawn;
    draw(&drawn, two, 2, even, &by);
    ck_assert_int_eq(tdm_greys_light(device, &drawn.pixels, &exact, drawn.greys, 2, WIDTH, HEIGHT, at, "f",
                                     &warnings, &light, &used, NULL),
                     TDM_OK);
    ck_assert(!used);
    ck_assert_int_eq(tdm_greys_check(device, &drawn.pixels, &exact, drawn.greys, 2, "f", &warnings, NULL),
                     TDM_OK);
    ck_assert_uint_eq(warnings.count, 0);
    by.gain[2] = 0.85;
    draw_card(&drawn, &two[0], even, &by);
    ck_assert_int_eq(tdm_greys_check(device, &drawn.pixels, &exact, drawn.greys, 2, "f", &warnings, NULL),
                     TDM_OK);
    ck_assert(tdm_warnings_have(&warnings, "grey-disagrees"));
    ck_assert_ptr_nonnull(strstr(warnings.items[0].text, "1 of 2"));
    tdm_warnings_free(&warnings);
    free(drawn.pixels.rgb16);
    tdm_device_free(device);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {a_wedge_corrects_tone,         when_there_is_a_curve,
                                  a_wrong_step_is_named,         two_cards_show_light_along_their_line,
                                  tone_and_light_are_told_apart, known_light_counts_before_the_greys,
                                  two_lightnesses_show_no_light, more_than_a_stop_is_warned_of,
                                  one_wrong_card_among_equals,   greys_beside_a_target,
                                  even_light_beside_a_target,    NULL};
    return run_suite("greys", tests);
}
