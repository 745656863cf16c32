/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Means over squares of pixels, gathered from the stored picture's rows as they come. */
#ifndef TDM_PHOTO_SHRINK_H
#define TDM_PHOTO_SHRINK_H

#include "photo/orient.h"
#include "photo/photo.h"

typedef struct tdm_shrink {
    tdm_pixels *pixels;     /* 8 bits; the upright result */
    tdm_placing placing;    /* of stored rows and columns of squares in it */
    uint32_t width, height; /* of the stored picture */
    uint32_t factor;        /* side of a square */
    uint32_t first_column;  /* pixels in the first column and row of squares: fewer where the upright */
    uint32_t first_row;     /* picture's far edge, where a rest is left, is the stored one's near edge */
    bool wide;              /* samples of two bytes */
    uint32_t columns;       /* of squares, as stored */
    uint64_t (*sums)[3];    /* of the row of squares at work */
    uint32_t *counts;       /* pixels in them */
    uint8_t *opaque;        /* whether all were */
} tdm_shrink;

/* upright_width, upright_height: of the picture before. False where memory is short; to be freed either
 * way. */
bool tdm_shrink_start(tdm_shrink *shrink, tdm_pixels *pixels, int orientation, uint32_t upright_width,
                      uint32_t upright_height, uint32_t factor, bool wide);
/* Rows from the top of the stored picture, each once. */
void tdm_shrink_row(tdm_shrink *shrink, uint32_t row, const uint8_t *samples, int channels);
void tdm_shrink_free(tdm_shrink *shrink);

#endif
