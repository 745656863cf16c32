/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Marks of a photograph of 400 by 300 pixels, as text, and read. */
#ifndef TESTS_MARKS_MARKS_TEXT_H
#define TESTS_MARKS_MARKS_TEXT_H

#include <string.h>

#include "marks/marks.h"

#define HEAD "{\"tidemark_marks\":1,\"photo\":\"a.jpg\",\"size\":[400,300],"
#define SCALE "\"scale\":{\"from\":[0,10],\"to\":[100,10],\"mm\":50},"
#define ZONE "{\"name\":\"front\",\"path\":[[10,10],[10,200]],\"width_mm\":20}"
#define ZONES "\"zones\":[" ZONE "]}"

static inline tdm_code parse_marks(const char *text, tdm_marks *marks, tdm_warnings *warnings,
                                   tdm_error *error)
{
    const tdm_limits limits = tdm_limits_default();
    return tdm_marks_parse(text, strlen(text), "a.marks.json", 400, 300, &limits, warnings, marks, error);
}

#endif
