/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Errors are values: a code, the file, the place in it, and what is wrong and what to do. */
#ifndef TIDEMARK_ERROR_H
#define TIDEMARK_ERROR_H

#include "tidemark/export.h"

TDM_BEGIN_DECLS

typedef enum tdm_code {
    TDM_OK = 0,
    TDM_ERR_UNUSABLE,    /* the photograph can't carry what was asked of it */
    TDM_ERR_USAGE,       /* wrong use by the caller */
    TDM_ERR_UNREADABLE,  /* no such file, a directory, no permission */
    TDM_ERR_FORMAT,      /* damaged, truncated or not what it should be */
    TDM_ERR_UNSUPPORTED, /* recognised, but refused; the text says what to do */
    TDM_ERR_LIMIT,       /* larger than a limit in tdm_limits */
    TDM_ERR_MEMORY,      /* an allocation failed */
    TDM_ERR_SYSTEM       /* reading or writing failed: disk full, I/O error */
} tdm_code;

/* Filled on failure, untouched on success. Strings are always terminated, cut when too long. */
typedef struct tdm_error {
    tdm_code code;
    char file[256];  /* file concerned, or "" */
    char place[128]; /* place in it, such as "zones[1].path[0]" or "line 7, column 3", or "" */
    char text[512];  /* one line: what is wrong and what to do */
} tdm_error;

/* Exit status that the command uses for a code: 0 done, 1 unusable, 2 wrong use, 3 bad input, 4 system fault.
 */
TDM_API int tdm_exit_status(tdm_code code);

/* Releases text returned by this library. NULL is allowed. */
TDM_API void tdm_free(void *memory);

TDM_END_DECLS

#endif
