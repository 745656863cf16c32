/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The picture that is searched: encoded 8-bit values, a plane a channel. */
#ifndef TDM_COLOUR_FIND_PICTURE_H
#define TDM_COLOUR_FIND_PICTURE_H

#include "photo/photo.h"

typedef struct tdm_find_picture {
    uint32_t width, height;
    uint8_t *planes[3]; /* of one allocation, the first's */
    double factor;      /* its place x, y is factor * x, factor * y in the whole photograph, */
    double left, top;   /* from here on; places are continuous, pixel i covers i to i + 1 */
} tdm_find_picture;

/* pixels as read, of either depth. False where memory is short. */
bool tdm_find_picture_take(const tdm_pixels *pixels, double factor, tdm_find_picture *out);
/* Means of 2 x 2; an odd last row or column is dropped. */
bool tdm_find_picture_halve(const tdm_find_picture *picture, tdm_find_picture *out);
void tdm_find_picture_free(tdm_find_picture *picture);

/* Interpolated between the four nearest pixels' centres; the border goes on outside. 0 to 255. */
void tdm_find_picture_at(const tdm_find_picture *picture, double x, double y, double value[3]);

#endif
