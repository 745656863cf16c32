/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A photograph file: JPEG or PNG, upright, decoded in the rectangle that is asked for. */
#ifndef TDM_PHOTO_PHOTO_H
#define TDM_PHOTO_PHOTO_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/warnings.h"
#include "tidemark/error.h"
#include "tidemark/limits.h"

/* Pixels [x, x + width) by [y, y + height) of the upright picture. */
typedef struct tdm_rect {
    uint32_t x, y, width, height;
} tdm_rect;

/* What the file itself says of its colours, after its own precedence (PNG: cICP, iCCP, sRGB, gAMA with cHRM).
 */
typedef enum tdm_colour_source {
    TDM_COLOUR_UNSTATED,   /* nothing */
    TDM_COLOUR_ICC,        /* icc, icc_size hold the embedded profile */
    TDM_COLOUR_SRGB,       /* declared: PNG sRGB chunk, cICP of sRGB, EXIF ColorSpace 1 */
    TDM_COLOUR_DISPLAY_P3, /* declared: cICP 12/13 */
    TDM_COLOUR_GAMMA       /* declared: PNG gAMA, primaries from cHRM (sRGB's where there is none) */
} tdm_colour_source;

typedef struct tdm_photo_info {
    const char *format; /* "JPEG" or "PNG" */
    uint32_t width;     /* upright, after orientation */
    uint32_t height;
    int bits;  /* 8 or 16 a sample as delivered */
    bool grey; /* the file has one colour channel; pixels are delivered as R = G = B */
    bool has_alpha;
    int orientation;  /* EXIF code 1 to 8 as found (1 where none) */
    char taken[24];   /* "2026-03-14T09:26:53" (DateTimeOriginal, else DateTime), "" where none */
    char sha256[65];  /* of the file's bytes */
    int focal_35mm;   /* EXIF: focal length in mm on film of 36 by 24, 0 where none */
    int jpeg_quality; /* 1 to 100, of the standard table nearest to the file's own; 0 where there is none */
    double jpeg_step; /* mean step of its low frequencies; 0 where there is none */
    tdm_colour_source colour;
    const uint8_t *icc; /* owned by the photo; NULL unless colour is TDM_COLOUR_ICC */
    size_t icc_size;
    double gamma;           /* file's encoding exponent as display gamma, e.g. 2.2; 0 where not stated */
    double chromaticity[8]; /* white x y, red x y, green x y, blue x y; zeros where not stated */
    tdm_error colour_fault; /* what is damaged or past a limit in what says what the colours mean: then colour
                               is unstated, and only a caller who knows better may go on. Its code is TDM_OK
                               where all is sound */
} tdm_photo_info;

typedef struct tdm_photo tdm_photo;

/* Reads the file, checks its kind and header against the limits; decodes nothing yet. Harmless oddities go to
 * warnings (codes "photo-…"), damage to the stated colours to colour_fault. TDM_ERR_UNSUPPORTED with advice
 * for CMYK JPEG, HDR PNG (cICP PQ or HLG), HEIF, AVIF, TIFF, camera raw, WebP, GIF, BMP, PDF. */
TDM_MUST_CHECK tdm_code tdm_photo_open(const char *path, const tdm_limits *limits, tdm_warnings *warnings,
                                       tdm_photo **out, tdm_error *error);
/* As above from memory; the photo copies nothing and the bytes must outlive it. name is for messages. */
TDM_MUST_CHECK tdm_code tdm_photo_open_memory(const uint8_t *data, size_t size, const char *name,
                                              const tdm_limits *limits, tdm_warnings *warnings,
                                              tdm_photo **out, tdm_error *error);
void tdm_photo_close(tdm_photo *photo); /* NULL is allowed */

const tdm_photo_info *tdm_photo_about(const tdm_photo *photo);

/* Decoded pixels of one rectangle. */
typedef struct tdm_pixels {
    tdm_rect rect;   /* where they lie in the upright picture */
    int bits;        /* 8 or 16 */
    uint8_t *rgb8;   /* 3 bytes a pixel, rows of rect.width, when bits is 8; NULL otherwise */
    uint16_t *rgb16; /* native-endian, full 16-bit range, when bits is 16; NULL otherwise */
    uint8_t *opaque; /* one byte a pixel, 1 where fully opaque, 0 otherwise; NULL where all are */
} tdm_pixels;

/* Decodes the rectangle, which must lie inside the picture. Damaged data is TDM_ERR_FORMAT: a picture with
 * lost rows is never returned as if it were whole. May be called again for another rectangle. */
TDM_MUST_CHECK tdm_code tdm_photo_read(tdm_photo *photo, tdm_rect rect, tdm_pixels *out, tdm_error *error);
void tdm_pixels_free(tdm_pixels *pixels);

/* The whole upright picture, smaller by the least whole *factor that brings its longer side to longest_side
 * or less. A pixel is the mean of the factor x factor encoded ones that it covers, from x * factor and
 * y * factor on (fewer at the right and bottom edges), and opaque where all of them are; a JPEG is brought
 * down within its blocks where that comes to the same. 8 bits, rect from 0, 0 in small pixels. Strict as
 * tdm_photo_read. Holds no more than a row of the picture beside the result, but all of an interlaced PNG. */
TDM_MUST_CHECK tdm_code tdm_photo_read_small(tdm_photo *photo, uint32_t longest_side, tdm_pixels *out,
                                             double *factor, tdm_error *error);

/* Version of "libjpeg-turbo" or "libpng" as used; NULL for another name. Static storage. */
const char *tdm_photo_library_version(const char *name);

#endif
