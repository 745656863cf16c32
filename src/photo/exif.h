/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The few EXIF facts that matter. Place, serial numbers and the maker's notes are never looked up. */
#ifndef TDM_PHOTO_EXIF_H
#define TDM_PHOTO_EXIF_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/warnings.h"
#include "tidemark/error.h"

typedef struct tdm_exif {
    int orientation; /* 1 to 8; 1 where none or none that makes sense */
    char taken[24];  /* "2026-03-14T09:26:53" or "" */
    bool srgb;       /* ColorSpace is 1 */
    int focal_35mm;  /* FocalLengthIn35mmFilm, mm; 0 where none */
} tdm_exif;

/* tiff: the block after "Exif\0\0", starting "II" or "MM". What is broken becomes a warning "photo-exif" and
 * the default; only a lack of memory is an error. */
TDM_MUST_CHECK tdm_code tdm_exif_read(const uint8_t *tiff, size_t size, const char *name,
                                      tdm_warnings *warnings, tdm_exif *out, tdm_error *error);

#endif
