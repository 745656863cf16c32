/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The chunks that say how a PNG is to be understood, found without libpng: 1.6 doesn't know cICP, drops a
 * profile that stands beside an sRGB chunk, and forgets what it dropped as damaged. */
#ifndef TDM_PHOTO_PNG_CHUNKS_H
#define TDM_PHOTO_PNG_CHUNKS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "tidemark/error.h"

typedef struct tdm_png_chunk {
    bool found;
    bool sound; /* its CRC is right */
    const uint8_t *data;
    size_t size;
} tdm_png_chunk;

/* The first of each name; those of colour only where they stand before the pixels. */
typedef struct tdm_png_chunks {
    tdm_png_chunk cicp, iccp, srgb, gama, chrm, trns, exif;
} tdm_png_chunks;

/* data starts with the PNG signature. TDM_ERR_FORMAT where the file ends before its IEND chunk. */
TDM_MUST_CHECK tdm_code tdm_png_find_chunks(const uint8_t *data, size_t size, const char *name,
                                            tdm_png_chunks *out, tdm_error *error);

uint32_t tdm_png_number(const uint8_t bytes[4]);

#endif
