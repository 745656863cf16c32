/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "colour/drawn_scene.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "colour/target.h"

static const double degree = 3.14159265358979323846 / 180;
static const double camera_distance = 14; /* pitches: a target of 6 seen from an arm's length */

double chance(canvas *c)
{
    c->seed = c->seed * 1664525U + 1013904223U;
    return (double)(c->seed >> 8) / 16777216.0;
}

float *canvas_pixel(const canvas *c, uint32_t x, uint32_t y)
{
    return c->rgb + 3 * ((size_t)y * c->width + x);
}

canvas canvas_of(uint32_t width, uint32_t height, uint32_t seed)
{
    canvas c = {width, height, calloc((size_t)width * height, 3 * sizeof(float)), seed};
    if (!c.rgb)
        abort();
    for (int i = 0; i < 8; i++)
        (void)chance(&c);
    const double level = 0.08 + 0.4 * chance(&c), across = chance(&c) - 0.5, down = chance(&c) - 0.5;
    for (uint32_t y = 0; y < height; y++) {
        for (uint32_t x = 0; x < width; x++) {
            const double at =
                level * (1 + across * ((double)x / width - 0.5) + down * ((double)y / height - 0.5));
            for (int k = 0; k < 3; k++)
                canvas_pixel(&c, x, y)[k] = (float)at;
        }
    }
    return c;
}

void canvas_free(canvas *c)
{
    free(c->rgb);
    c->rgb = NULL;
}

board plain_board(double x, double y, double pitch)
{
    return (board){.columns = 6,
                   .rows = 4,
                   .share = 0.85,
                   .margin = 0.15,
                   .x = x,
                   .y = y,
                   .pitch = pitch,
                   .frame = {0.012, 0.012, 0.012}};
}

/* The board's plane, in pitches from its middle, to the picture and back: turn, tilt, pinhole. */
typedef struct view {
    double m[9], inverse[9];
} view;

static void invert(const double m[9], double out[9])
{
    const double adjoint[9] = {
        m[4] * m[8] - m[5] * m[7], m[2] * m[7] - m[1] * m[8], m[1] * m[5] - m[2] * m[4],
        m[5] * m[6] - m[3] * m[8], m[0] * m[8] - m[2] * m[6], m[2] * m[3] - m[0] * m[5],
        m[3] * m[7] - m[4] * m[6], m[1] * m[6] - m[0] * m[7], m[0] * m[4] - m[1] * m[3]};
    memcpy(out, adjoint, sizeof adjoint); /* but for a factor, which doesn't matter here */
}

static void apply(const double m[9], double u, double v, double *x, double *y)
{
    const double w = m[6] * u + m[7] * v + m[8];
    *x = (m[0] * u + m[1] * v + m[2]) / w;
    *y = (m[3] * u + m[4] * v + m[5]) / w;
}

static view view_of(const board *b)
{
    const double c = cos(b->turn * degree), s = sin(b->turn * degree), flip = b->mirrored ? -1 : 1;
    const double plane[4] = {flip * c, -s, flip * s, c}; /* x and y of the board's axes, turned */
    const double ax = cos(b->tilt_to * degree), ay = sin(b->tilt_to * degree);
    const double squeeze = cos(b->tilt * degree), depth = sin(b->tilt * degree);
    view v;
    for (int i = 0; i < 2; i++) {
        /* Along the axis of tilt, and away from it. */
        const double along = plane[i] * ax + plane[2 + i] * ay, away = -plane[i] * ay + plane[2 + i] * ax;
        v.m[i] = b->pitch * (along * ax - squeeze * away * ay);
        v.m[3 + i] = b->pitch * (along * ay + squeeze * away * ax);
        v.m[6 + i] = depth * away / camera_distance;
        v.m[i] += b->x * v.m[6 + i];
        v.m[3 + i] += b->y * v.m[6 + i];
    }
    v.m[2] = b->x;
    v.m[5] = b->y;
    v.m[8] = 1;
    invert(v.m, v.inverse);
    return v;
}

void board_corners(const board *b, double corners[8])
{
    const view v = view_of(b);
    const double right = b->columns / 2.0 - 0.075, bottom = b->rows / 2.0 - 0.075;
    const double at[8] = {-right, -bottom, right, -bottom, right, bottom, -right, bottom};
    for (int i = 0; i < 4; i++)
        apply(v.m, at[2 * i], at[2 * i + 1], &corners[2 * i], &corners[2 * i + 1]);
}

/* Colour of the board at a place in its plane; NULL beside it. */
static const double *board_at(const board *b, double (*colours)[3], double u, double v)
{
    const double column = u + b->columns / 2.0, row = v + b->rows / 2.0;
    if (column < -b->margin || row < -b->margin || column > b->columns + b->margin ||
        row > b->rows + b->margin)
        return NULL;
    if (column < 0 || row < 0 || column >= b->columns || row >= b->rows ||
        fabs(column - floor(column) - 0.5) > b->share / 2 || fabs(row - floor(row) - 0.5) > b->share / 2)
        return b->frame;
    return colours[(int)row * b->columns + (int)column];
}

/* The pixels that a board may touch. */
static void extent(const canvas *c, const board *b, uint32_t from[2], uint32_t to[2])
{
    const view v = view_of(b);
    double least[2] = {INFINITY, INFINITY}, most[2] = {-INFINITY, -INFINITY}, at[2];
    for (int i = 0; i < 4; i++) {
        apply(v.m, (i % 2 ? 1 : -1) * (b->columns / 2.0 + b->margin),
              (i / 2 ? 1 : -1) * (b->rows / 2.0 + b->margin), &at[0], &at[1]);
        for (int k = 0; k < 2; k++) {
            least[k] = fmin(least[k], at[k]);
            most[k] = fmax(most[k], at[k]);
        }
    }
    const double side[2] = {c->width, c->height};
    for (int k = 0; k < 2; k++) {
        from[k] = (uint32_t)fmin(fmax(least[k] - 1, 0), side[k]);
        to[k] = (uint32_t)fmin(fmax(most[k] + 2, 0), side[k]);
    }
}

enum { FINE = 4 /* samples a pixel, along each side */ };

static void paint_pixel(float *rgb, const board *b, const view *v, double (*colours)[3], double x, double y)
{
    double sum[3] = {0};
    for (int i = 0; i < FINE * FINE; i++) {
        double u, w;
        apply(v->inverse, x + (i % FINE + 0.5) / FINE, y + ((double)(i / FINE) + 0.5) / FINE, &u, &w);
        const double *colour = board_at(b, colours, u, w);
        for (int k = 0; k < 3; k++)
            sum[k] += colour ? colour[k] : (double)rgb[k];
    }
    for (int k = 0; k < 3; k++)
        rgb[k] = (float)(sum[k] / (FINE * FINE));
}

void paint_board(canvas *c, const board *b, double (*colours)[3])
{
    uint32_t from[2], to[2];
    const view v = view_of(b);
    extent(c, b, from, to);
    for (uint32_t y = from[1]; y < to[1]; y++) {
        for (uint32_t x = from[0]; x < to[0]; x++)
            paint_pixel(canvas_pixel(c, x, y), b, &v, colours, x, y);
    }
}

void target_colours(double colours[PATCHES][3])
{
    for (int i = 0; i < PATCHES; i++) {
        linear_srgb_from_lab_d50(tdm_reference_patches[i].lab, colours[i]);
        for (int k = 0; k < 3; k++)
            colours[i][k] = fmax(colours[i][k], 0);
    }
}

static void fill_disc(canvas *c, double x, double y, double radius, const double linear[3])
{
    for (uint32_t row = (uint32_t)fmax(y - radius, 0); row < c->height && row < y + radius; row++) {
        for (uint32_t column = (uint32_t)fmax(x - radius, 0); column < c->width && column < x + radius;
             column++) {
            if (hypot(column + 0.5 - x, row + 0.5 - y) > radius)
                continue;
            for (int k = 0; k < 3; k++)
                canvas_pixel(c, column, row)[k] = (float)linear[k];
        }
    }
}

void paint_blot(canvas *c, const board *b, double column, double row, double radius, const double linear[3])
{
    double x, y;
    const view v = view_of(b);
    apply(v.m, column + 0.5 - b->columns / 2.0, row + 0.5 - b->rows / 2.0, &x, &y);
    fill_disc(c, x, y, radius * b->pitch, linear);
}

void paint_shade(canvas *c, const shade *s)
{
    const double length = hypot(s->to_x, s->to_y);
    for (uint32_t y = 0; y < c->height; y++) {
        for (uint32_t x = 0; x < c->width; x++) {
            const double in = ((x - s->x) * s->to_x + (y - s->y) * s->to_y) / length;
            const double part = fmin(fmax(in / fmax(s->soft, 1e-9) + 0.5, 0), 1);
            for (int k = 0; k < 3; k++)
                canvas_pixel(c, x, y)[k] *= (float)(1 + part * (s->factor - 1));
        }
    }
}
