/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break if something else were taken for the target. */
#include <string.h>

#include "colour/look.h"
#include "suite.h"

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

int main(void)
{
    TCase *all = patient_case("colour finder, nothing");
    tcase_add_loop_test(all, clutter_alone, 0, CLUTTER_COUNT);
    tcase_add_test(all, noise_alone);
    tcase_add_loop_test(all, permuted, 0, 7);
    tcase_add_test(all, cut_off);
    return run_case("colour finder, nothing", all);
}
