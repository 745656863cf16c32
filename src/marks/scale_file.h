/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The level scale file: a salon's own L* for each level. */
#ifndef TDM_MARKS_SCALE_FILE_H
#define TDM_MARKS_SCALE_FILE_H

#include "base/warnings.h"
#include "colour/level.h"
#include "tidemark/error.h"
#include "tidemark/limits.h"

/* JSON, "tidemark_level_scale": 1, "note", "entries": [{"level", "lstar", "name"?}]. Levels and L* must rise
 * strictly: else the error names the entries that don't. *out to be freed with tdm_free. */
TDM_MUST_CHECK tdm_code tdm_scale_text(const tdm_level_scale *scale, char **out, tdm_error *error);
TDM_MUST_CHECK tdm_code tdm_scale_parse(const char *data, size_t size, const char *file,
                                        const tdm_limits *limits, tdm_warnings *warnings,
                                        tdm_level_scale *out, tdm_error *error);
TDM_MUST_CHECK tdm_code tdm_scale_load(const char *path, const tdm_limits *limits, tdm_warnings *warnings,
                                       tdm_level_scale *out, tdm_error *error);

#endif
