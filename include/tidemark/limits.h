/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Bounds on what any input may make the library do. Raise them for inputs that you trust. */
#ifndef TIDEMARK_LIMITS_H
#define TIDEMARK_LIMITS_H

#include <stdint.h>

#include "tidemark/export.h"

TDM_BEGIN_DECLS

typedef struct tdm_limits {
    uint64_t file_bytes;  /* largest photograph file, default 256 MiB */
    uint64_t pixels;      /* most pixels in a photograph, default 200 million */
    uint64_t icc_bytes;   /* largest embedded profile, default 4 MiB */
    uint64_t marks_bytes; /* largest marks file, default 4 MiB */
    uint32_t zones;       /* most zones in a marks file, default 64 */
    uint32_t points;      /* most points in one path or polygon, default 1024 */
    uint32_t scans;       /* most scans of a progressive JPEG, default 200 */
    uint64_t strip_cells; /* most cells in one straightened zone, default 8 million */
} tdm_limits;

TDM_API tdm_limits tdm_limits_default(void);

TDM_END_DECLS

#endif
