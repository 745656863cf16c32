/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the picture is measured against: scale, target and grey references, each from its key of the file. */
#ifndef TDM_MARKS_PARSE_REFERENCES_H
#define TDM_MARKS_PARSE_REFERENCES_H

#include "marks/json_walk.h"

TDM_MUST_CHECK tdm_code tdm_parse_scale(const tdm_marks_reader *reader, const json_t *root, tdm_marks *out);
TDM_MUST_CHECK tdm_code tdm_parse_target(const tdm_marks_reader *reader, const json_t *root, tdm_marks *out);
TDM_MUST_CHECK tdm_code tdm_parse_greys(const tdm_marks_reader *reader, const json_t *root, tdm_marks *out);

#endif
