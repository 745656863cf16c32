/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How the library's own code reports an error. */
#ifndef TDM_BASE_FAIL_H
#define TDM_BASE_FAIL_H

#include "tidemark/error.h"

/* Fills *error (NULL is allowed) and returns code, so that a caller writes `return tdm_fail(…)`.
 * file and place may be NULL. */
tdm_code tdm_fail(tdm_error *error, tdm_code code, const char *file, const char *place, const char *format,
                  ...) TDM_PRINTF(5, 6);

tdm_code tdm_fail_memory(tdm_error *error, const char *file);

#endif
