/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The target drawn in light that isn't even, by cameras drawn by lot. */
#ifndef TESTS_COLOUR_LIT_H
#define TESTS_COLOUR_LIT_H

#include "colour/calibration.h"
#include "colour/drawn.h"

typedef struct lighting {
    double slope[2]; /* stops a pixel along x and y, none at the target's middle */
    double edge[3];  /* a shadow where edge[0] x + edge[1] y > edge[2], in pitches from the middle */
    double shadow;   /* stops that it takes */
    double penumbra; /* pitches */
} lighting;

/* Edition B of the published values: the one in use. A: the earlier one. */
void published_lab(char edition, double lab[PATCHES][3]);

/* 0 to 1, evenly; a normal deviate. */
double lot(uint32_t *seed);
double lot_normal(uint32_t *seed);

/* Exposure, white balance, mixing, contrast and noise by lot; nothing clips. */
camera camera_by_lot(uint32_t seed);

/* draw_target under a lighting. */
tdm_pixels draw_lit(int bits, double lab[PATCHES][3], const camera *by, const lighting *light, uint32_t pitch,
                    double corners[8]);

/* Hair-like colours from black to pale blonde, and two dyed ones. */
enum { HAIR = 14 };
extern const double hair_lab[HAIR][3];

/* A hair colour as the camera has it, at the target's middle, and what a calibration makes of that. */
void see_hair(const tdm_device *device, const tdm_calibration *calibration, const camera *by,
              const double hair[3], double lab[3]);

/* Mean CIEDE2000 of those hair colours under a calibration. */
double hair_miss(const tdm_device *device, const tdm_calibration *calibration, const camera *by);

#endif
