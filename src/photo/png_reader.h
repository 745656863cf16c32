/* SPDX-License-Identifier: GPL-3.0-or-later */
/* libpng with its errors as return values. */
#ifndef TDM_PHOTO_PNG_READER_H
#define TDM_PHOTO_PNG_READER_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <png.h>

#include "tidemark/error.h"

typedef struct tdm_png {
    png_structp decoder;
    png_infop info;
    const uint8_t *data;
    size_t size;
    size_t at;
    char text[128]; /* of the last warning or error */
} tdm_png;

/* A step may call any libpng function; it is left at the first error. It must own nothing. */
typedef void tdm_png_step(tdm_png *png, void *work);

/* Ready for png_read_info. Ancillary chunks are skipped, but for tRNS and, with_profile, iCCP: what they say
 * is found by png_chunks.c. NULL where memory is short. */
tdm_png *tdm_png_create(const uint8_t *data, size_t size, bool with_profile, uint64_t icc_limit);
void tdm_png_free(tdm_png *png);

/* False where the step was left; text then says why. */
bool tdm_png_try(tdm_png *png, tdm_png_step *step, void *work);
tdm_code tdm_png_fail(const tdm_png *png, const char *name, tdm_error *error);

#endif
