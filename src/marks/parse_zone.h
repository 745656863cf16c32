/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TDM_MARKS_PARSE_ZONE_H
#define TDM_MARKS_PARSE_ZONE_H

#include "marks/json_walk.h"

/* One object of the zones list. */
TDM_MUST_CHECK tdm_code tdm_parse_zone(const tdm_marks_reader *reader, const json_t *value, const char *key,
                                       tdm_zone_marks *out);

#endif
