/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the two decoders share with photo.c. */
#ifndef TDM_PHOTO_DECODER_H
#define TDM_PHOTO_DECODER_H

#include "photo/kind.h"
#include "photo/orient.h"
#include "photo/photo.h"

struct tdm_photo {
    tdm_photo_info info;
    tdm_kind kind;
    char *name;          /* for messages */
    uint8_t *owned;      /* the file's bytes when they are the photo's, else NULL */
    const uint8_t *data; /* the file's bytes */
    size_t size;
    uint8_t *icc;          /* what info.icc points to */
    uint32_t stored_width; /* before orientation */
    uint32_t stored_height;
    tdm_limits limits;
};

struct tdm_shrink;

/* Rows of the stored rectangle fall into the upright pixels. */
typedef struct tdm_sink {
    tdm_pixels *pixels;
    tdm_placing placing;
    tdm_rect stored;
    struct tdm_shrink *shrink; /* takes the rows instead, where not NULL */
    uint32_t reduction;        /* 2, 4, 8: a JPEG's blocks are decoded so much smaller; stored is in such
                                  pixels. Else 0 or 1 */
} tdm_sink;

/* Makes room for `rect`, with an opaque mask when has_alpha. */
TDM_MUST_CHECK tdm_code tdm_pixels_create(const tdm_photo_info *info, tdm_rect rect, const char *name,
                                          tdm_pixels *out, tdm_error *error);
/* `samples` are `channels` (1 grey, 3 RGB, 4 RGB and alpha) a pixel, one byte each, or two with the more
 * significant first when the sink takes 16 bits. row counts from the top of the stored rectangle, samples
 * start at its left. */
void tdm_sink_row(const tdm_sink *sink, uint32_t row, const uint8_t *samples, int channels);
/* Drops the mask where every pixel is opaque. */
void tdm_pixels_settle(tdm_pixels *pixels);

/* The pixel count against the limit; stores the size and its upright form. */
TDM_MUST_CHECK tdm_code tdm_photo_set_size(tdm_photo *photo, uint32_t width, uint32_t height,
                                           tdm_error *error);

/* What came of reading the stated colours: code and, unless it is TDM_OK, fault. A damaged or oversized
 * statement is kept as info.colour_fault and is no error; all else is returned. */
TDM_MUST_CHECK tdm_code tdm_photo_settle_colours(tdm_photo *photo, tdm_code code, const tdm_error *fault,
                                                 tdm_error *error);

/* Fill info, but for the sha256 and the upright size, from the file's header. */
TDM_MUST_CHECK tdm_code tdm_jpeg_header(tdm_photo *photo, tdm_warnings *warnings, tdm_error *error);
TDM_MUST_CHECK tdm_code tdm_png_header(tdm_photo *photo, tdm_warnings *warnings, tdm_error *error);

/* Send every row of the stored rectangle to the sink, or fail. */
TDM_MUST_CHECK tdm_code tdm_jpeg_pixels(const tdm_photo *photo, const tdm_sink *sink, tdm_error *error);
TDM_MUST_CHECK tdm_code tdm_png_pixels(const tdm_photo *photo, const tdm_sink *sink, tdm_error *error);

const char *tdm_jpeg_version(void);
const char *tdm_png_version(void);

#endif
