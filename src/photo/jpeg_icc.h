/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TDM_PHOTO_JPEG_ICC_H
#define TDM_PHOTO_JPEG_ICC_H

#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

#include <jpeglib.h>

#include "tidemark/error.h"

/* Joins the profile of the saved APP2 markers (ICC.1:2022, annex B.4). *icc is NULL where there is none, else
 * the caller's to free. Chunks that are missing, doubled, out of order or at odds about their number are
 * TDM_ERR_FORMAT: a profile is whole or it is nothing. */
TDM_MUST_CHECK tdm_code tdm_jpeg_icc(const struct jpeg_marker_struct *markers, uint64_t limit,
                                     const char *name, uint8_t **icc, size_t *size, tdm_error *error);

#endif
