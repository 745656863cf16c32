/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break if the target went unseen, or were laid down the wrong way round or beside its place. The truth
 * is the drawing's own camera (drawn_scene.c). */
#include <math.h>

#include "colour/look.h"
#include "suite.h"

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
    TCase *all = patient_case("colour finder");
    tcase_add_loop_test(all, every_turn, 0, 24);
    tcase_add_loop_test(all, mirrored, 0, 4);
    tcase_add_loop_test(all, tilted, 0, 6);
    tcase_add_loop_test(all, shaded, 0, 2);
    tcase_add_test(all, dirty);
    tcase_add_test(all, small_and_large);
    tcase_add_loop_test(all, share_of_the_pitch, 0, 2);
    tcase_add_loop_test(all, light_and_tone, 0, 7);
    tcase_add_test(all, right_one_of_two);
    return run_case("colour finder", all);
}
