/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A drawn scene photographed, and the target looked for in it. */
#ifndef TESTS_COLOUR_LOOK_H
#define TESTS_COLOUR_LOOK_H

#include "colour/drawn_scene.h"
#include "colour/finder.h"

typedef struct look {
    bool found;
    tdm_found_target target;
} look;

/* Frees the canvas. blur in pixels, JPEG's quality. */
look look_for(canvas *c, const camera *by, double blur, int quality);

/* A little noise and stray light. */
camera usual_camera(void);

/* The board on a plain ground, among clutter where asked for. */
canvas scene_of(const board *b, uint32_t seed, bool cluttered);

#endif
