/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How things of a room look that have rectangles, rows or many colours, as a colour target has. */
#include <math.h>

#include "clutter.h"

static double chance(const scn_thing *t, int i, int j)
{
    return (double)scn_hash(t->seed * 31 + i, t->seed * 17 + 7 * j + 3) / 4294967295.0;
}

/* Any colour that paint or print may have. */
static scn_xyz some_colour(const scn_thing *t, int i, int j)
{
    const double hue = 6.283185307179586 * chance(t, i + 101, j), chroma = 60 * sqrt(chance(t, i + 202, j));
    return scn_xyz_of((scn_lab){{25 + 60 * chance(t, i + 303, j), chroma * cos(hue), chroma * sin(hue)}});
}

static scn_xyz blend(scn_xyz under, scn_xyz over, double share)
{
    for (int k = 0; k < 3; k++)
        under.v[k] += share * (over.v[k] - under.v[k]);
    return under;
}

/* Rectangles in rows on a ground; `fill` is the share of a cell's side that its rectangle takes. */
typedef struct {
    int columns, rows;
    double fill_x, fill_y, round;
    scn_xyz ground;
} grid;

static double cell_of(const scn_thing *t, const grid *g, double x, double y, double pixel, int *i, int *j)
{
    const double px = 2 * t->a / g->columns, py = 2 * t->b / g->rows;
    const double u = fmin(g->columns - 1, fmax(0, floor((x + t->a) / px)));
    const double v = fmin(g->rows - 1, fmax(0, floor((y + t->b) / py)));
    *i = (int)u;
    *j = (int)v;
    return scn_inside(x + t->a - (u + 0.5) * px, y + t->b - (v + 0.5) * py, 0.5 * g->fill_x * px,
                      0.5 * g->fill_y * py, g->round * fmin(px, py), pixel);
}

static scn_xyz window_look(const scn_thing *t, double x, double y, double pixel)
{
    const grid g = {2 + t->seed % 3, 2 + t->seed / 3 % 3, 0.9, 0.9, 0, scn_neutral(88)};
    int i = 0, j = 0;
    const double cover = cell_of(t, &g, x, y, pixel, &i, &j), l = 55 + 25 * chance(t, i, j) - 10 * y / t->b;
    return blend(g.ground, scn_xyz_of((scn_lab){{l, -4, -12 + 8 * chance(t, i, j + 9)}}), cover);
}

static scn_xyz tiles_look(const scn_thing *t, double x, double y, double pixel)
{
    const grid g = {3 + t->seed % 6, 3 + t->seed / 5 % 4, 0.94, 0.94, 0, scn_neutral(60)};
    int i = 0, j = 0;
    const double cover = cell_of(t, &g, x, y, pixel, &i, &j);
    const scn_xyz tile =
        scn_xyz_of((scn_lab){{82 - 6 * chance(t, i, j), -2 + 3 * chance(t, 1, 1), 2 + 6 * chance(t, 2, 2)}});
    return blend(g.ground, tile, cover);
}

static scn_xyz keyboard_look(const scn_thing *t, double x, double y, double pixel)
{
    const bool dark = t->seed % 2 == 0;
    const grid g = {11 + t->seed % 4, 5, 0.84, 0.84, 0.12, scn_neutral(dark ? 18 : 75)};
    int i = 0, j = 0;
    const double cover = cell_of(t, &g, x, y, pixel, &i, &j);
    const double px = 2 * t->a / g.columns, py = 2 * t->b / g.rows;
    const double letter =
        scn_inside(x + t->a - (i + 0.4) * px, y + t->b - (j + 0.4) * py, 0.1 * px, 0.13 * py, 0, pixel);
    const scn_xyz key = blend(scn_neutral(dark ? 30 : 90), scn_neutral(dark ? 85 : 25), letter);
    return blend(g.ground, key, cover);
}

/* Spines of unequal widths, from edges that don't repeat; a label on some. */
static scn_xyz books_look(const scn_thing *t, double x, double y, double pixel)
{
    const double mean = 2 * t->a / (6 + t->seed % 8), u = (x + t->a) / mean;
    const int cell = (int)floor(u);
    const double edge = cell + 0.15 + 0.7 * chance(t, cell, 0);
    const int book = u < edge ? cell : cell + 1;
    const double top = -t->b + 0.5 * t->b * chance(t, book, 1), gap = fabs(u - edge) * mean;
    const scn_xyz dark = scn_neutral(16), label = scn_neutral(80);
    scn_xyz out = some_colour(t, book, 2);
    if (chance(t, book, 3) > 0.4)
        out = blend(out, label, fmin(1, fmax(0, 0.5 - (fabs(y - 0.2 * t->b) - 0.15 * t->b) / pixel)));
    out = blend(out, dark, fmin(1, fmax(0, 1 - gap / fmax(0.6, pixel))));
    return blend(dark, out, fmin(1, fmax(0, 0.5 + (y - top) / pixel)));
}

static double stripe(double x, double pitch, double pixel)
{
    const double d = fabs(x / pitch - floor(x / pitch) - 0.5) * pitch; /* from the middle of the stripe */
    return fmin(1, fmax(0, 0.5 + (0.25 * pitch - d) / pixel));
}

static scn_xyz stripes_look(const scn_thing *t, double x, double y, double pixel)
{
    const double pitch = 4 + t->seed % 9, bend = 1.5 * scn_mottle(x / 25, y / 25 + t->seed);
    const double fold = 1 + 0.12 * scn_mottle(x / 14 + t->seed, y / 40);
    scn_xyz out = blend(some_colour(t, 0, 0), some_colour(t, 1, 0), stripe(x + bend, pitch, pixel));
    for (int k = 0; k < 3; k++)
        out.v[k] *= fold;
    return out;
}

static scn_xyz checks_look(const scn_thing *t, double x, double y, double pixel)
{
    const double pitch = 7 + t->seed % 11, fold = 1 + 0.08 * scn_mottle(x / 14 + t->seed, y / 40);
    const double a = stripe(x, pitch, pixel), b = stripe(y, pitch, pixel);
    /* Woven: where the stripes cross, the colour is full; or a chessboard. */
    const double share = t->seed % 2 ? 0.5 * (a + b) : a + b - 2 * a * b;
    scn_xyz out = blend(some_colour(t, 0, 0), some_colour(t, 1, 0), share);
    for (int k = 0; k < 3; k++)
        out.v[k] *= fold;
    return out;
}

/* Strips of paint chips, each of one hue from light to dark. */
static scn_xyz chips_look(const scn_thing *t, double x, double y, double pixel)
{
    const grid g = {4 + t->seed % 4, 3 + t->seed / 4 % 5, 0.92, 0.86, 0, scn_neutral(93)};
    int i = 0, j = 0;
    const double cover = cell_of(t, &g, x, y, pixel, &i, &j);
    const double hue = 6.283185307179586 * chance(t, i, 40), chroma = 10 + 40.0 * j / g.rows;
    const scn_lab chip = {{88 - 55.0 * j / g.rows, chroma * cos(hue), chroma * sin(hue)}};
    return blend(g.ground, scn_xyz_of(chip), cover);
}

static scn_xyz picture_look(const scn_thing *t, double x, double y, double pixel)
{
    const scn_xyz frame = t->seed % 2 ? scn_neutral(15) : scn_xyz_of((scn_lab){{45, 12, 28}});
    const double mat = scn_inside(x, y, 0.88 * t->a, 0.88 * t->b, 0, pixel);
    const double print = scn_inside(x, y, 0.65 * t->a, 0.65 * t->b, 0, pixel);
    const double l = 50 + 30 * scn_mottle(x / 9 + t->seed, y / 9),
                 warm = scn_mottle(x / 15, y / 15 + t->seed);
    const scn_xyz art = scn_xyz_of((scn_lab){{l, 20 * warm, 25 * scn_mottle(x / 12 + 5, y / 12)}});
    return blend(blend(frame, scn_neutral(92), mat), art, print);
}

/* A fan of loops of hair on a card. */
static scn_xyz ring_look(const scn_thing *t, double x, double y, double pixel)
{
    const double r = hypot(x, y - t->b), turn = atan2(x, t->b - y) / 0.16;
    const int loop = (int)lround(turn);
    const double across = (turn - loop) * 0.16 * r, from_end = fabs(r - 1.25 * t->b) - 0.55 * t->b;
    const double half = 0.068 * 1.3 * t->b,
                 cover = fmin(1, fmax(0, 0.5 + fmin(half - fabs(across), -from_end) / pixel));
    const double warm = chance(t, loop, 1);
    const scn_lab lab = {{42 + 4.5 * loop, 4 + 5 * warm, 12 + 8 * warm}};
    scn_xyz hair = scn_xyz_of(lab);
    const double light = 1 + 0.2 * scn_mottle(across / 0.6 + 9 * loop, r / 12);
    for (int k = 0; k < 3; k++)
        hair.v[k] *= light;
    return blend(scn_neutral(85), hair, abs(loop) <= 5 ? cover : 0);
}

/* Six by four patches on black, as a colour target has, in colours that no such target has. */
static scn_xyz wrong_grid_look(const scn_thing *t, double x, double y, double pixel)
{
    const grid g = {6, 4, 0.85, 0.85, 0, scn_neutral(14)};
    int i = 0, j = 0;
    const double cover = cell_of(t, &g, x, y, pixel, &i, &j);
    return blend(g.ground, some_colour(t, i, j), cover);
}

/* Lines of words as dark runs of strokes. */
static scn_xyz text_look(const scn_thing *t, double x, double y, double pixel)
{
    const double line = 4 + t->seed % 3, letter = 0.5 * line, u = (x + t->a) / letter, v = (y + t->b) / line;
    const int i = (int)floor(u), j = (int)floor(v);
    const bool word = chance(t, i, j) > 0.18 && fabs(x) < 0.85 * t->a && fabs(y) < 0.85 * t->b;
    const double fx = (u - i - 0.5) * letter, fy = (v - j - 0.45) * line;
    const double upright = scn_inside(fx + 0.12 * letter * (1 - 2 * chance(t, i, j + 50)), fy, 0.09 * letter,
                                      0.3 * line, 0, pixel);
    const double level = scn_inside(fx, fy - 0.25 * line * (1 - 2 * chance(t, i, j + 90)), 0.35 * letter,
                                    0.05 * line, 0, pixel);
    return blend(scn_neutral(90), scn_neutral(20), word ? fmax(upright, level) : 0);
}

scn_xyz scn_thing_surface(double x, double y, double pixel, const void *data)
{
    typedef scn_xyz (*look)(const scn_thing *, double, double, double);
    static const look looks[SCN_CLUTTER_KINDS] = {
        [SCN_WINDOW] = window_look,         [SCN_TILES] = tiles_look,     [SCN_KEYBOARD] = keyboard_look,
        [SCN_BOOKS] = books_look,           [SCN_STRIPES] = stripes_look, [SCN_CHECKS] = checks_look,
        [SCN_CHIPS] = chips_look,           [SCN_PICTURE] = picture_look, [SCN_RING] = ring_look,
        [SCN_WRONG_GRID] = wrong_grid_look, [SCN_TEXT] = text_look};
    const scn_thing *thing = data;
    return looks[thing->kind](thing, x, y, pixel);
}
