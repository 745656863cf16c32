/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Calibrated pixels of a zone's rectangle, converted tile by tile as they are asked for: a slanting zone
 * fills little of its rectangle. */
#ifndef TDM_STRIP_TILES_H
#define TDM_STRIP_TILES_H

#include "colour/calibration.h"

enum { TDM_TILE = 64 };

typedef struct tdm_tile {
    float xyz[TDM_TILE * TDM_TILE * 3];
    uint8_t flags[TDM_TILE * TDM_TILE]; /* TDM_PIXEL_… */
} tdm_tile;

typedef struct tdm_tiles {
    const tdm_device *device;
    const tdm_calibration *calibration;
    const tdm_pixels *pixels;
    tdm_rect rect; /* inside pixels->rect */
    uint32_t across, down;
    tdm_tile **tiles; /* across * down, NULL until converted */
} tdm_tiles;

TDM_MUST_CHECK tdm_code tdm_tiles_make(const tdm_device *device, const tdm_calibration *calibration,
                                       const tdm_pixels *pixels, tdm_rect rect, tdm_tiles *out,
                                       tdm_error *error);
void tdm_tiles_free(tdm_tiles *tiles);

/* The tile that holds a pixel of the rectangle (x, y from its corner); *at is the pixel's index in it. */
TDM_MUST_CHECK tdm_code tdm_tiles_get(tdm_tiles *tiles, uint32_t x, uint32_t y, const tdm_tile **tile,
                                      size_t *at, tdm_error *error);

#endif
