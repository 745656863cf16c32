/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The swatches of a level scale, each an area with its level. */
#ifndef TDM_MARKS_PARSE_SWATCHES_H
#define TDM_MARKS_PARSE_SWATCHES_H

#include "marks/json_walk.h"

TDM_MUST_CHECK tdm_code tdm_parse_swatches(const tdm_marks_reader *reader, const json_t *root,
                                           tdm_marks *out);

#endif
