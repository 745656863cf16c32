/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A drawn surface as the bytes of a PNG file. */
#ifndef TDM_REPORT_PICTURE_H
#define TDM_REPORT_PICTURE_H

#include <cairo.h>
#include <stddef.h>
#include <stdint.h>

#include "tidemark/error.h"

/* file: for errors. *bytes is the caller's. */
TDM_MUST_CHECK tdm_code tdm_picture_png(cairo_surface_t *surface, const char *file, uint8_t **bytes,
                                        size_t *size, tdm_error *error);

/* The error of a drawing that failed. */
tdm_code tdm_picture_fail(cairo_status_t status, const char *file, tdm_error *error);

#endif
