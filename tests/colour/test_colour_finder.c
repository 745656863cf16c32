/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break if the target went unseen, were laid down the wrong way round or beside its place, or if
 * something else were taken for it. The truth is the drawing's own camera (drawn_scene.c). */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "colour/drawn_scene.h"
#include "colour/finder.h"
#include "colour/profiles.h"
#include "suite.h"

typedef struct look {
    bool found;
    tdm_found_target target;
} look;

static look look_for(canvas *c, const camera *by, double blur, int quality)
{
    const tdm_limits limits = tdm_limits_default();
    tdm_warnings warnings = {0};
    tdm_error error = {0};
    tdm_photo *photo = NULL;
    tdm_device *device = srgb_device();
    look seen = {0};
    size_t size;
    uint8_t *bytes = take_photograph(c, by, blur, quality, &size);
    tdm_code code = tdm_photo_open_memory(bytes, size, "drawn", &limits, &warnings, &photo, &error);
    if (code == TDM_OK)
        code = tdm_target_find(device, photo, &seen.found, &seen.target, &error);
    ck_assert_msg(code == TDM_OK, "%s", error.text);
    tdm_photo_close(photo);
    tdm_device_free(device);
    tdm_warnings_free(&warnings);
    free(bytes);
    canvas_free(c);
    return seen;
}

static double between(double a, double b)
{
    return fabs(remainder(a - b, 360));
}

/* tolerance: pixels that a corner may be off. */
static void expect(const look *seen, const board *b, double tolerance, const char *what)
{
    double corners[8];
    board_corners(b, corners);
    ck_assert_msg(seen->found, "%s: not found", what);
    ck_assert_msg(seen->target.mirrored == b->mirrored, "%s: mirrored %d", what, seen->target.mirrored);
    for (int i = 0; i < 4; i++) {
        const double off = hypot(seen->target.corners[2 * i] - corners[2 * i],
                                 seen->target.corners[2 * i + 1] - corners[2 * i + 1]);
        ck_assert_msg(off <= tolerance, "%s: corner %d is off by %g", what, i, off);
    }
    ck_assert_msg(seen->target.confidence > 0.5 && seen->target.confidence <= 1, "%s: confidence %g", what,
                  seen->target.confidence);
}

static camera usual_camera(void)
{
    camera by = plain_camera();
    by.noise = 0.006;
    by.veil = 0.003;
    return by;
}

/* The board on a plain ground, among clutter where asked for. */
static canvas scene_of(const board *b, uint32_t seed, bool cluttered)
{
    double colours[PATCHES][3];
    canvas c = canvas_of(800, 600, seed);
    if (cluttered) {
        paint_clutter(&c, CLUTTER_TILES, 150, 150, 350);
        paint_clutter(&c, CLUTTER_STREAKS, 620, 300, 300);
        paint_clutter(&c, CLUTTER_CHIPS, 200, 480, 260);
    }
    target_colours(colours);
    paint_board(&c, b, colours);
    return c;
}

/* Half a pixel: what noise and JPEG leave at 40 pixels a patch, and a tenth of what sampling allows. */
static const double usual = 0.5;

START_TEST(every_turn)
{
    const double turn = 15.0 * _i;
    board b = plain_board(400, 300, 48);
    b.turn = turn;
    const camera by = usual_camera();
    canvas c = scene_of(&b, (uint32_t)_i + 1, true);
    const look seen = look_for(&c, &by, 0.7, 88);
    expect(&seen, &b, usual, "turned");
    ck_assert_double_le(between(seen.target.turn_deg, turn), 0.2);
}
END_TEST

START_TEST(mirrored)
{
    board b = plain_board(380, 310, 45);
    b.turn = 90.0 * _i - 160;
    b.mirrored = true;
    const camera by = usual_camera();
    canvas c = scene_of(&b, 77, true);
    const look seen = look_for(&c, &by, 0.7, 88);
    expect(&seen, &b, usual, "mirrored");
    ck_assert_double_le(between(seen.target.turn_deg, b.turn), 0.2);
}
END_TEST

START_TEST(tilted)
{
    board b = plain_board(400, 300, 50);
    b.turn = 20 + 70 * _i;
    b.tilt = 35;
    b.tilt_to = 60.0 * _i;
    const camera by = usual_camera();
    canvas c = scene_of(&b, 5, true);
    const look seen = look_for(&c, &by, 0.7, 88);
    expect(&seen, &b, 2 * usual, "tilted");
}
END_TEST

/* A third of the target in a shade of half the light, sharp or soft. */
START_TEST(shaded)
{
    board b = plain_board(400, 300, 50);
    b.turn = -12;
    const shade dark = {330, 300, -1, 0.3, 0.5, _i ? 60 : 2};
    const camera by = usual_camera();
    canvas c = scene_of(&b, 6, false);
    paint_shade(&c, &dark);
    const look seen = look_for(&c, &by, 0.7, 88);
    expect(&seen, &b, usual, "shaded");
}
END_TEST

START_TEST(dirty)
{
    static const double dark[3] = {0.02, 0.015, 0.01}, gloss[3] = {0.95, 0.95, 0.95};
    board b = plain_board(400, 300, 50);
    b.turn = 170;
    const camera by = usual_camera();
    canvas c = scene_of(&b, 7, false);
    paint_blot(&c, &b, 2, 1, 0.35, dark);
    paint_blot(&c, &b, 5, 3, 0.35, gloss);
    const look seen = look_for(&c, &by, 0.7, 88);
    expect(&seen, &b, usual, "dirty");
}
END_TEST

/* Patches of 7 pixels, and a target that fills the picture; within a fifth of a small patch. */
START_TEST(small_and_large)
{
    const camera by = usual_camera();
    board b = plain_board(500, 200, 8.3);
    b.turn = 30;
    canvas c = scene_of(&b, 8, true);
    look seen = look_for(&c, &by, 0.5, 92);
    expect(&seen, &b, 1.5, "small");
    b = plain_board(400, 300, 128);
    c = scene_of(&b, 9, false);
    seen = look_for(&c, &by, 0.9, 88);
    expect(&seen, &b, usual, "large");
}
END_TEST

/* Patches narrower or wider than patches.c has them: corners are still of its block, so that middles agree.
 */
START_TEST(share_of_the_pitch)
{
    board b = plain_board(420, 290, 52);
    b.share = _i ? 0.9 : 0.8;
    b.turn = 8;
    const camera by = usual_camera();
    canvas c = scene_of(&b, 10, false);
    const look seen = look_for(&c, &by, 0.7, 88);
    expect(&seen, &b, usual, "share");
}
END_TEST

/* Light of another colour, too much and too little of it, a strong curve, channels mixed. */
START_TEST(light_and_tone)
{
    static const struct {
        double gain[3], contrast, power, mix;
    } cases[] = {
        {{1.41, 1, 0.71}, 0, 1, 0},       {{0.8, 1, 1.5}, 0, 1, 0}, {{2.8, 2.8, 2.8}, 0, 1, 0},
        {{0.35, 0.35, 0.35}, 0, 1, 0},    {{1, 1, 1}, 0.6, 1, 0},   {{1, 1, 1}, -0.3, 0.85, 0.1},
        {{0.5, 0.35, 0.25}, 0.3, 1.1, 0},
    };
    camera by = usual_camera();
    by.contrast = cases[_i].contrast;
    by.power = cases[_i].power;
    for (int k = 0; k < 3; k++)
        by.gain[k] = cases[_i].gain[k];
    for (int k = 0; k < 9; k++)
        by.mix[k] = k % 4 == 0 ? 1 - cases[_i].mix : cases[_i].mix / 2;
    board b = plain_board(400, 300, 50);
    b.turn = 100;
    canvas c = scene_of(&b, 11, false);
    const look seen = look_for(&c, &by, 0.7, 88);
    expect(&seen, &b, usual, "light");
}
END_TEST

static void expect_none(canvas *c, const char *what)
{
    const camera by = usual_camera();
    const look seen = look_for(c, &by, 0.7, 88);
    ck_assert_msg(!seen.found, "%s: found at %g, %g, confidence %g", what, seen.target.corners[0],
                  seen.target.corners[1], seen.target.confidence);
}

START_TEST(clutter_alone)
{
    static const char *const names[CLUTTER_COUNT] = {"streaks", "tiles", "keys",        "cloth", "chips",
                                                     "block",   "greys", "swatch ring", "frames"};
    for (uint32_t seed = 1; seed <= 4; seed++) {
        canvas c = canvas_of(800, 600, 31 * seed);
        paint_clutter(&c, (clutter)_i, 400, 300, 560);
        expect_none(&c, names[_i]);
    }
}
END_TEST

START_TEST(noise_alone)
{
    canvas c = canvas_of(700, 500, 3);
    for (size_t i = 0; i < 3 * (size_t)c.width * c.height; i++)
        c.rgb[i] = (float)chance(&c);
    expect_none(&c, "noise");
}
END_TEST

/* The target's own colours in another order: rows or columns changed for others, moved on by one, halves. */
static int other_order(int kind, int patch)
{
    const int row = patch / 6, column = patch % 6;
    switch (kind) {
    case 0:
        return (row ^ 1) * 6 + column;
    case 1:
        return row * 6 + (column ^ 1);
    case 2:
        return (row + 1) % 4 * 6 + column;
    case 3:
        return row * 6 + (column + 1) % 6;
    case 4:
        return (row == 1 ? 2 : row == 2 ? 1 : row) * 6 + column;
    case 5:
        return row * 6 + (column == 1 ? 4 : column == 4 ? 1 : column);
    default:
        return (patch * 7 + 3) % PATCHES;
    }
}

START_TEST(permuted)
{
    double colours[PATCHES][3], moved[PATCHES][3];
    board b = plain_board(400, 300, 60);
    b.turn = 25;
    target_colours(colours);
    for (int i = 0; i < PATCHES; i++)
        memcpy(moved[i], colours[other_order(_i, i)], sizeof moved[i]);
    canvas c = canvas_of(800, 600, 12);
    paint_board(&c, &b, moved);
    expect_none(&c, "permuted");
}
END_TEST

/* Part of it outside the picture. */
START_TEST(cut_off)
{
    board b = plain_board(60, 300, 50);
    canvas c = scene_of(&b, 13, false);
    expect_none(&c, "cut off");
}
END_TEST

/* A target beside one whose colours are wrong: the sure one. */
START_TEST(right_one_of_two)
{
    double colours[PATCHES][3];
    board b = plain_board(210, 300, 42), other = plain_board(600, 300, 42);
    b.turn = 90;
    other.turn = 95;
    const camera by = usual_camera();
    canvas c = scene_of(&b, 14, false);
    for (int i = 0; i < PATCHES; i++)
        for (int k = 0; k < 3; k++)
            colours[i][k] = 0.9 * chance(&c);
    paint_board(&c, &other, colours);
    const look seen = look_for(&c, &by, 0.7, 88);
    expect(&seen, &b, usual, "one of two");
}
END_TEST

int main(void)
{
    TCase *all = patient_case("finder");
    tcase_add_loop_test(all, every_turn, 0, 24);
    tcase_add_loop_test(all, mirrored, 0, 4);
    tcase_add_loop_test(all, tilted, 0, 6);
    tcase_add_loop_test(all, shaded, 0, 2);
    tcase_add_test(all, dirty);
    tcase_add_test(all, small_and_large);
    tcase_add_loop_test(all, share_of_the_pitch, 0, 2);
    tcase_add_loop_test(all, light_and_tone, 0, 7);
    tcase_add_loop_test(all, clutter_alone, 0, CLUTTER_COUNT);
    tcase_add_test(all, noise_alone);
    tcase_add_loop_test(all, permuted, 0, 7);
    tcase_add_test(all, cut_off);
    tcase_add_test(all, right_one_of_two);
    return run_case("colour finder", all);
}
