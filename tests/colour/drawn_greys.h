/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Grey cards in light that rises or falls, drawn: lightness, light and camera are known. */
#ifndef TESTS_COLOUR_DRAWN_GREYS_H
#define TESTS_COLOUR_DRAWN_GREYS_H

#include "colour/calibration.h"
#include "colour/drawn.h"

enum { GREYS_WIDTH = 600, GREYS_HEIGHT = 400, GREYS_MOST = 16 };

/* A card 40 px square around x, y; said: the lstar that is stated for it. */
typedef struct card {
    double x, y, lstar, said;
} card;

/* The cards' picture, and what a calibration makes of it. */
typedef struct greys {
    tdm_pixels pixels;
    double polygons[GREYS_MOST][8];
    tdm_grey marks[GREYS_MOST];
    size_t count;
    camera by;
    double along[2]; /* of the light, as stops_at has it */
    tdm_device *device;
    tdm_warnings warnings;
    tdm_calibration fitted;
} greys;

/* Six steps, and light that is even. */
extern const card wedge[6];
extern const double even[2];

/* Linear light of a grey. */
double light_of(double lstar);

/* Stops at a place: along[0] across half of the width, along[1] down as many pixels, 0 in the middle. */
double stops_at(const double along[2], double x, double y);

/* Drawn in sRGB, not calibrated yet. The marks point into it: it must stay where it is. */
void greys_draw(greys *out, const card *cards, size_t count, const double along[2], const camera *by);
void greys_free(greys *it);

/* Another card over what is drawn. */
void draw_card(greys *it, const card *one);

/* Into fitted; fails where the greys can't be used. */
void greys_calibrate(greys *it);

/* Draws and calibrates. */
void greys_fit(greys *out, const card *cards, size_t count, const double along[2], const camera *by);

/* Stops that the light differs by from x, y to the middle, by the calibration. */
double found_stops(const greys *it, double x, double y);

/* CIELAB of a colour as it stands at x, y, as the calibration has it. */
void read_back(const greys *it, const double truth[3], double x, double y, double lab[3]);

/* The largest error of L* over six colours of hair at four places. */
double worst_lstar(const greys *it);

#endif
