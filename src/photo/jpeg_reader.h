/* SPDX-License-Identifier: GPL-3.0-or-later */
/* libjpeg-turbo with its errors as return values. */
#ifndef TDM_PHOTO_JPEG_READER_H
#define TDM_PHOTO_JPEG_READER_H

#include <setjmp.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>

#include <jpeglib.h>

#include "tidemark/error.h"

typedef struct tdm_jpeg {
    struct jpeg_decompress_struct decoder;
    struct jpeg_error_mgr errors;
    struct jpeg_progress_mgr progress;
    jmp_buf jump;
    uint32_t scan_limit;
    bool too_many_scans;
    bool old_jfif;                /* the harmless warning JWRN_JFIF_MAJOR came up */
    bool scanned[MAX_COMPONENTS]; /* components, by index, that some scan has carried */
    char text[JMSG_LENGTH_MAX];   /* of the error */
} tdm_jpeg;

/* A step may call any libjpeg function; it is left at the first error or fatal warning. It must own nothing
 * but what comes from the decoder's pools. */
typedef void tdm_jpeg_step(tdm_jpeg *jpeg, void *work);

/* Ready to read the header. NULL where memory is short. */
tdm_jpeg *tdm_jpeg_create(const uint8_t *data, size_t size, uint32_t scan_limit);
void tdm_jpeg_free(tdm_jpeg *jpeg);

/* False where the step was left; jpeg then knows why. */
bool tdm_jpeg_try(tdm_jpeg *jpeg, tdm_jpeg_step *step, void *work);
/* Why the last step was left. */
tdm_code tdm_jpeg_fail(const tdm_jpeg *jpeg, const char *name, tdm_error *error);

#endif
