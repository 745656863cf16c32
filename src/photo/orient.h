/* SPDX-License-Identifier: GPL-3.0-or-later */
/* EXIF orientation (CIPA DC-008, tag 0x0112): from the picture as stored to the upright one. */
#ifndef TDM_PHOTO_ORIENT_H
#define TDM_PHOTO_ORIENT_H

#include <stdbool.h>
#include <stddef.h>

#include "photo/photo.h"

/* Rows and columns change places in codes 5 to 8. */
bool tdm_orient_swaps(int orientation);

/* The stored rectangle that holds the upright `rect`; width and height are those of the upright picture. */
tdm_rect tdm_orient_stored(int orientation, uint32_t width, uint32_t height, tdm_rect rect);

/* Where stored pixels fall in an upright block of pixels: index = start + column * along + row * down, with
 * column and row counted from the corner of the stored rectangle. */
typedef struct tdm_placing {
    ptrdiff_t start, along, down;
} tdm_placing;

tdm_placing tdm_orient_placing(int orientation, uint32_t block_width, uint32_t block_height);

#endif
