/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Photographs with the target somewhere in them, and others that only have what looks like it, through a
 * pinhole camera; as JPEG files. Where the corners lie is known from the camera, not searched for. */
#ifndef TESTS_COLOUR_DRAWN_SCENE_H
#define TESTS_COLOUR_DRAWN_SCENE_H

#include "colour/drawn.h"

/* A plane board of patches. */
typedef struct board {
    int columns, rows;
    double share;         /* of the pitch, that a patch is wide */
    double margin;        /* of the pitch, of frame beyond the outer patches' cells */
    double x, y;          /* its middle, in pixels */
    double pitch;         /* in pixels, at its middle */
    double turn;          /* degrees clockwise */
    double tilt, tilt_to; /* degrees, and the direction of the axis in the picture */
    bool mirrored;
    double frame[3]; /* linear */
} board;

typedef struct shade {
    double x, y, to_x, to_y; /* a place on its edge, and the direction into it */
    double factor;           /* on linear light; 0 for no shade */
    double soft;             /* pixels, from light to dark */
} shade;

/* A linear picture at work. */
typedef struct canvas {
    uint32_t width, height;
    float *rgb;
    uint32_t seed;
} canvas;

canvas canvas_of(uint32_t width, uint32_t height, uint32_t seed); /* an uneven mid grey */
void canvas_free(canvas *c);
float *canvas_pixel(const canvas *c, uint32_t x, uint32_t y); /* its three values */
double chance(canvas *c);                                     /* 0 to 1 */

board plain_board(double x, double y, double pitch); /* 6 by 4, flat, upright, black frame */
/* colours: linear, row by row. */
void paint_board(canvas *c, const board *b, double (*colours)[3]);
/* The published patches, linear. */
void target_colours(double colours[PATCHES][3]);
/* Of the block of patches of a share of 0.85, whatever the board's is. */
void board_corners(const board *b, double corners[8]);
/* A bright or a dark blot on a patch. */
void paint_blot(canvas *c, const board *b, double column, double row, double radius, const double linear[3]);
void paint_shade(canvas *c, const shade *s);

/* What must not be taken for the target. */
typedef enum clutter {
    CLUTTER_STREAKS, /* hair: thousands of thin lines */
    CLUTTER_TILES,   /* a wall of tiles of about one colour */
    CLUTTER_KEYS,    /* a keyboard */
    CLUTTER_CLOTH,   /* a checked cloth */
    CLUTTER_CHIPS,   /* a board of paint chips of any colour, 9 by 7 */
    CLUTTER_BLOCK,   /* 6 by 4 of any colour in a black frame */
    CLUTTER_GREYS,   /* 6 by 4 of greys */
    CLUTTER_RING,    /* swatches round a ring */
    CLUTTER_FRAMES,  /* pictures on a wall */
    CLUTTER_COUNT
} clutter;

void paint_clutter(canvas *c, clutter kind, double x, double y, double size);

/* Blur by a Gaussian of this many pixels, the camera, and JPEG of this quality with chroma at half size below
 * 90. To be freed. */
uint8_t *take_photograph(canvas *c, const camera *by, double blur, int quality, size_t *size);

#endif
