/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a file is, by its bytes; its name is never looked at. */
#ifndef TDM_PHOTO_KIND_H
#define TDM_PHOTO_KIND_H

#include <stddef.h>
#include <stdint.h>

#include "tidemark/error.h"

typedef enum tdm_kind { TDM_KIND_JPEG, TDM_KIND_PNG } tdm_kind;

/* TDM_ERR_UNSUPPORTED with advice for a known kind that isn't read, TDM_ERR_FORMAT for an unknown one. */
TDM_MUST_CHECK tdm_code tdm_kind_of(const uint8_t *data, size_t size, const char *name, tdm_kind *out,
                                    tdm_error *error);

#endif
