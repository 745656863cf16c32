/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TDM_BASE_FILE_H
#define TDM_BASE_FILE_H

#include <stddef.h>
#include <stdint.h>

#include "tidemark/error.h"

typedef struct tdm_bytes {
    uint8_t *data; /* malloc'ed, the caller's to free; never NULL on success; a zero byte follows the last */
    size_t size;
} tdm_bytes;

/* Reads a regular file whole. TDM_ERR_UNREADABLE for a missing file, a directory or no permission,
 * TDM_ERR_LIMIT past limit bytes, TDM_ERR_SYSTEM where reading fails. */
TDM_MUST_CHECK tdm_code tdm_file_read(const char *path, uint64_t limit, tdm_bytes *out, tdm_error *error);

/* The part of path after its last slash. */
const char *tdm_file_name(const char *path);

#endif
