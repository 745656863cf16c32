/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef CLUTTER_H
#define CLUTTER_H

#include "sheet.h"

typedef enum {
    SCN_WINDOW,
    SCN_TILES,
    SCN_KEYBOARD,
    SCN_BOOKS,
    SCN_STRIPES,
    SCN_CHECKS,
    SCN_CHIPS,
    SCN_PICTURE,
    SCN_RING,
    SCN_WRONG_GRID,
    SCN_TEXT,
    SCN_CLUTTER_KINDS
} scn_clutter_kind;

/* A thing of half sizes a, b mm; `seed` picks its colours. */
typedef struct {
    scn_clutter_kind kind;
    double a, b;
    int seed;
} scn_thing;

/* clutter_looks.c: the colour of a thing (data: scn_thing). */
scn_xyz scn_thing_surface(double x, double y, double pixel, const void *data);

#endif
