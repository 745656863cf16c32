/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: uneven light from greys of one lightness, light and tone kept apart. All pictures are drawn:
 * lightness, light and camera are known. */
#include <math.h>
#include <string.h>

#include "colour/drawn_greys.h"
#include "suite.h"

static const card ends[2] = {{80, 200, 50, 50}, {520, 200, 50, 50}};

/* Two cards at two ends: the light along their line is found (0.01 stops: the prior's pull), that across it
 * isn't, and its variance says so. */
START_TEST(two_cards_show_light_along_their_line)
{
    const double along[2] = {0.3, 0}, across[2] = {0, 0.3};
    const camera by = plain_camera();
    greys drawn;
    greys_fit(&drawn, ends, 2, along, &by);
    const tdm_calibration *fitted = &drawn.fitted;
    ck_assert_int_eq(fitted->light.degree, 1);
    ck_assert_double_eq_tol(found_stops(&drawn, 600, 200), 0.3, 0.01);
    ck_assert_double_eq_tol(found_stops(&drawn, 300, 0), 0, 1e-9);
    ck_assert_double_lt(worst_lstar(&drawn), 0.3);
    ck_assert_double_lt(300 * sqrt(fitted->drift_var[0]), 0.04); /* along: two cards of 0.03 stops each */
    ck_assert_double_eq_tol(300 * sqrt(fitted->drift_var[2]), 0.5, 0.001); /* across: the prior */
    ck_assert_double_eq_tol(fitted->middle[0], 300, 1e-9);
    /* 0.44 stops between the two, a quarter of it in doubt, and a card's own 0.03 */
    ck_assert_double_eq_tol(fitted->light.misfit, hypot(0.03, 0.25 * 0.44), 0.003);
    ck_assert_uint_eq(drawn.warnings.count, 0);
    greys_free(&drawn);
    greys_fit(&drawn, ends, 2, across, &by);
    ck_assert_int_eq(drawn.fitted.light.degree, 0);
    ck_assert_uint_eq(drawn.warnings.count, 0);
    greys_free(&drawn);
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
    greys drawn;
    greys_fit(&drawn, cards, 9, along, &by);
    ck_assert_uint_eq(drawn.warnings.count, 0);
    ck_assert_int_eq(drawn.fitted.light.degree, 1);
    ck_assert_double_eq_tol(found_stops(&drawn, 540, 340) - found_stops(&drawn, 60, 60),
                            stops_at(along, 540, 340) - stops_at(along, 60, 60), 0.06);
    ck_assert_double_lt(worst_lstar(&drawn), 2);
    greys_free(&drawn);
}
END_TEST

/* Two cards at the picture's edges, the light falling towards both by 0.4 stops: they can't show it, and hair
 * in the middle is read too light; once the light is known it isn't. 0.3 L*: the card's own size. */
START_TEST(known_light_counts_before_the_greys)
{
    const card two[2] = {{40, 200, 50, 50}, {560, 200, 50, 50}};
    const camera by = plain_camera();
    const double hair[3] = {30, 6, 9};
    tdm_light bowl = {.degree = 2, .width = GREYS_WIDTH, .height = GREYS_HEIGHT};
    greys drawn;
    greys_draw(&drawn, two, 2, even, &by);
    for (int c = 0; c < 3; c++)
        bowl.stops[c][3] = -0.4;
    for (int i = 0; i < 2; i++) {
        const double u = (two[i].x - GREYS_WIDTH / 2.0) / (GREYS_WIDTH / 2.0);
        const double light = light_of(50) * pow(2, -0.4 * u * u);
        const card dimmed = {two[i].x, two[i].y, 116 * cbrt(light) - 16, 50};
        draw_card(&drawn, &dimmed);
    }
    greys_calibrate(&drawn);
    double lab[3];
    read_back(&drawn, hair, 300, 200, lab);
    ck_assert_double_gt(lab[0], 32);
    ck_assert_int_eq(tdm_calibrate_grey(drawn.device, &drawn.pixels, drawn.marks, 2, GREYS_WIDTH,
                                        GREYS_HEIGHT, &bowl, "photo.jpg", NULL, &drawn.fitted, NULL),
                     TDM_OK);
    ck_assert_int_eq(drawn.fitted.light.degree, 2);
    read_back(&drawn, hair, 300, 200, lab);
    ck_assert_double_eq_tol(lab[0], 30, 0.3);
    greys_free(&drawn);
}
END_TEST

/* Two cards of two lightnesses say nothing of light against tone: gains, and a warning where they disagree.
 */
START_TEST(two_lightnesses_show_no_light)
{
    const card two[2] = {{80, 200, 50, 50}, {520, 200, 80, 80}};
    const double along[2] = {0.4, 0};
    const camera by = plain_camera();
    greys drawn;
    greys_fit(&drawn, two, 2, along, &by);
    const tdm_calibration *fitted = &drawn.fitted;
    ck_assert(fitted->light.degree == 0 && fitted->knots == 0 && isnan(fitted->drift_var[0]));
    ck_assert(tdm_warnings_have(&drawn.warnings, "grey-disagrees"));
    greys_free(&drawn);
}
END_TEST

START_TEST(more_than_a_stop_is_warned_of)
{
    const double steep[2] = {0.9, 0};
    const camera by = plain_camera();
    greys drawn;
    greys_fit(&drawn, ends, 2, steep, &by);
    ck_assert_int_eq(drawn.fitted.light.degree, 1);
    ck_assert(tdm_warnings_have(&drawn.warnings, "light-uneven"));
    ck_assert_ptr_nonnull(strstr(drawn.warnings.items[0].text, "1.3 stops"));
    greys_free(&drawn);
}
END_TEST

/* Five cards of one lightness, one stated wrongly by 0.6 stops: the light stays within 0.1 stops. */
START_TEST(one_wrong_card_among_equals)
{
    const card cards[5] = {
        {80, 80, 50, 50}, {520, 80, 50, 50}, {80, 320, 50, 50}, {520, 320, 50, 50}, {300, 200, 50, 51}};
    const double along[2] = {0.3, 0.1};
    const camera by = plain_camera();
    greys drawn;
    greys_draw(&drawn, cards, 5, along, &by);
    const card dirty = {520, 320, 40, 50}; /* a shadow on it */
    draw_card(&drawn, &dirty);
    greys_calibrate(&drawn);
    ck_assert_double_eq_tol(found_stops(&drawn, 520, 80), stops_at(along, 520, 80), 0.1);
    ck_assert_double_eq_tol(found_stops(&drawn, 80, 320), stops_at(along, 80, 320), 0.1);
    ck_assert(tdm_warnings_have(&drawn.warnings, "grey-disagrees"));
    greys_free(&drawn);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {two_cards_show_light_along_their_line,
                                  tone_and_light_are_told_apart,
                                  known_light_counts_before_the_greys,
                                  two_lightnesses_show_no_light,
                                  more_than_a_stop_is_warned_of,
                                  one_wrong_card_among_equals,
                                  NULL};
    return run_suite("greys' light", tests);
}
