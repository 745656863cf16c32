/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pictures made on the spot, so that what is in them is known. A failure here ends the test. */
#ifndef TESTS_PHOTO_MADE_H
#define TESTS_PHOTO_MADE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "photo/photo.h"

typedef struct made {
    uint8_t *data; /* the test's to free */
    size_t size;
} made;

/* A piece of a file: a JPEG marker's code and content, or a PNG chunk's name and content. */
typedef struct made_part {
    int code;         /* JPEG: 0xe1 and so on */
    const char *name; /* PNG */
    const uint8_t *data;
    size_t size;
    bool after_pixels; /* PNG */
} made_part;

typedef enum made_colours { MADE_GREY, MADE_YCC, MADE_RGB, MADE_CMYK, MADE_YCCK, MADE_TWO } made_colours;

/* Sample `channel` of pixel x, y. */
typedef unsigned made_sample(unsigned x, unsigned y, int channel);
/* Smooth colour with hard edges and noise, 0 to 255: everything a decoder can get wrong near a border. */
unsigned made_busy(unsigned x, unsigned y, int channel);
/* 200, 50, 100 everywhere. */
unsigned made_flat(unsigned x, unsigned y, int channel);

typedef struct made_jpeg_plan {
    unsigned width, height;
    made_colours colours;
    int across, down; /* luma sampling factors; chroma has 1, 1 */
    bool progressive;
    bool separate; /* one scan a channel */
    int restart;   /* MCUs between restart markers, 0 for none */
    int quality;   /* 0 for 90 */
    made_sample *sample;
    const made_part *parts;
    size_t part_count;
} made_jpeg_plan;

made made_jpeg(const made_jpeg_plan *plan);
/* A plain decode of the whole, top to bottom, three bytes a pixel; no cropping and none of the library's
 * code. */
uint8_t *made_jpeg_reference(made jpeg);

typedef struct made_png_plan {
    unsigned width, height;
    int depth, type; /* as in IHDR */
    bool interlaced;
    made_sample *sample; /* in the file's own range */
    const uint8_t *palette;
    int palette_count;
    const made_part *parts;
    size_t part_count;
    int level; /* of compression plus 1; 0 for the default */
} made_png_plan;

made made_png(const made_png_plan *plan);

typedef struct made_exif_plan {
    bool big_endian;
    int orientation;           /* 0 for no tag */
    const char *date_time;     /* NULL for no tag */
    const char *date_original; /* NULL for no tag */
    int colour_space;          /* 0 for no tag */
    int focal_35mm;            /* 0 for no tag */
} made_exif_plan;

/* The TIFF block; its prefix "Exif\0\0" first where prefixed. */
made made_exif(const made_exif_plan *plan, bool prefixed);

/* Opens and reads the whole. On an error both are empty. */
typedef struct made_read {
    tdm_code code;
    tdm_error error;
    tdm_photo_info info; /* its icc is not to be used */
    tdm_warnings warnings;
    tdm_pixels pixels;
} made_read;

made_read made_read_all(made file);
made_read made_read_limited(made file, const tdm_limits *limits);
void made_read_free(made_read *read);

#endif
