/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "colour/drawn_scene.h"

static const double degree = 3.14159265358979323846 / 180;

static void any_colour(canvas *c, double linear[3])
{
    for (int k = 0; k < 3; k++)
        linear[k] = 0.02 + 0.85 * pow(chance(c), 2);
}

static void streaks(canvas *c, double x, double y, double size)
{
    const double tone[3] = {0.05 + 0.2 * chance(c), 0.05 + 0.1 * chance(c), 0.03 + 0.06 * chance(c)};
    for (int i = 0; i < 1500; i++) {
        const double light = 0.4 + 1.2 * chance(c), lean = 0.3 * (chance(c) - 0.5);
        double at = x + size * (chance(c) - 0.5);
        for (double down = 0; down < size; down++, at += lean) {
            const double row = y - size / 2 + down;
            if (at < 0 || row < 0 || at >= c->width || row >= c->height)
                continue;
            for (int k = 0; k < 3; k++)
                canvas_pixel(c, (uint32_t)at, (uint32_t)row)[k] = (float)(light * tone[k]);
        }
    }
}

enum { MOST_CELLS = 400 };

/* A board of a clutter's own kind, turned and tilted a little. */
static void grid(canvas *c, double x, double y, double size, board b, double (*colours)[3])
{
    b.x = x;
    b.y = y;
    b.pitch = size / (b.columns > b.rows ? b.columns : b.rows);
    b.turn = 40 * chance(c) - 20;
    b.tilt = 25 * chance(c);
    b.tilt_to = 360 * chance(c);
    paint_board(c, &b, colours);
}

static void near_colours(canvas *c, double (*colours)[3], int count, double spread)
{
    double base[3];
    any_colour(c, base);
    for (int i = 0; i < count; i++) {
        const double light = 1 + spread * (chance(c) - 0.5);
        for (int k = 0; k < 3; k++)
            colours[i][k] = base[k] * light;
    }
}

static void cloth(canvas *c, double (*colours)[3], int columns, int rows)
{
    double warp[3][3];
    for (int i = 0; i < 3; i++)
        any_colour(c, warp[i]);
    for (int i = 0; i < columns * rows; i++) {
        for (int k = 0; k < 3; k++)
            colours[i][k] = (warp[i % columns % 3][k] + warp[i / columns % 3][k]) / 2;
    }
}

static void ring(canvas *c, double x, double y, double size)
{
    for (int i = 0; i < 16; i++) {
        const double angle = 360.0 * i / 16;
        double colour[1][3] = {{0.3 * chance(c), 0.15 * chance(c), 0.08 * chance(c)}};
        board b = {.columns = 1, .rows = 1, .share = 0.9, .turn = angle, .pitch = size / 8};
        b.x = x + 0.4 * size * cos(angle * degree);
        b.y = y + 0.4 * size * sin(angle * degree);
        memcpy(b.frame, colour[0], sizeof b.frame);
        paint_board(c, &b, colour);
    }
}

static void frames(canvas *c, double x, double y, double size)
{
    for (int i = 0; i < 9; i++) {
        double colour[1][3];
        board b = {.columns = 1, .rows = 1, .share = 0.7, .margin = 0.1, .pitch = size / 4.5};
        any_colour(c, colour[0]);
        any_colour(c, b.frame);
        b.x = x + size * (i % 3 - 1) / 3;
        b.y = y + size * ((double)(i / 3) - 1) / 3;
        paint_board(c, &b, colour);
    }
}

void paint_clutter(canvas *c, clutter kind, double x, double y, double size)
{
    double colours[MOST_CELLS][3];
    board b = {.columns = 6, .rows = 4, .share = 0.78 + 0.14 * chance(c), .margin = 0.2 * chance(c)};
    for (int k = 0; k < 3; k++)
        b.frame[k] = 0.012;
    for (int i = 0; i < MOST_CELLS; i++)
        any_colour(c, colours[i]);
    switch (kind) {
    case CLUTTER_STREAKS:
        streaks(c, x, y, size);
        return;
    case CLUTTER_RING:
        ring(c, x, y, size);
        return;
    case CLUTTER_FRAMES:
        frames(c, x, y, size);
        return;
    case CLUTTER_TILES:
        b.columns = 14;
        b.rows = 11;
        near_colours(c, colours, MOST_CELLS, 0.2 * chance(c));
        any_colour(c, b.frame);
        break;
    case CLUTTER_KEYS:
        b.columns = 15;
        b.rows = 5;
        near_colours(c, colours, MOST_CELLS, 0.05);
        break;
    case CLUTTER_CLOTH:
        b.columns = 18;
        b.rows = 18;
        b.share = 1;
        cloth(c, colours, 18, 18);
        break;
    case CLUTTER_CHIPS:
        b.columns = 9;
        b.rows = 7;
        break;
    case CLUTTER_GREYS:
        for (int i = 0; i < MOST_CELLS; i++)
            colours[i][0] = colours[i][2] = colours[i][1];
        break;
    case CLUTTER_BLOCK:
    case CLUTTER_COUNT:
        break;
    }
    grid(c, x, y, size, b, colours);
}
