/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Drawn swatches of known colour, measured. */
#ifndef TESTS_MEASURE_DRAWN_RING_H
#define TESTS_MEASURE_DRAWN_RING_H

#include "measure/swatches_parts.h"

enum { RING_SIDE = 120, RING_GAP = 20, RING_MOST = 5 };

/* Swatches side by side, each of vertical strands a few pixels wide, half of them lighter and half darker by
 * `strands` of their light. Neutral, so that L* of the mean light is known by the formula of CIELAB alone. */
typedef struct ring {
    size_t count;
    double levels[RING_MOST], lstars[RING_MOST], strands;
    double exposure; /* of the photograph */
    tdm_pixels pixels;
    double corners[RING_MOST][8];
    tdm_swatch_marks swatches[RING_MOST];
    tdm_marks marks;
    tdm_device *device;
    tdm_calibration calibration;
    double stops[RING_MOST]; /* of light against that at the card */
    struct tdm_swatches *found;
} ring;

/* Levels 3 to 7, not in that order. */
ring ring_of_five(void);

/* CIELAB's Y of an L* above 8. */
double ring_light(double lstar);

/* The photograph, its marks and its calibration. */
void ring_draw(ring *it);
/* Into found. */
tdm_code ring_measure(ring *it, tdm_error *error);
/* Both; fails where the swatches can't be measured. */
void ring_read(ring *it);
void ring_free(ring *it);

/* The first warning of a code, or NULL. */
const tdm_warning *ring_warning(const ring *it, const char *code);

#endif
