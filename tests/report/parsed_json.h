/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A report's JSON parsed back, and its members by their path. */
#ifndef TESTS_REPORT_PARSED_JSON_H
#define TESTS_REPORT_PARSED_JSON_H

#include <jansson.h>

#include "tidemark/report.h"

/* Of six significant digits, relative to 1 or the number itself. */
extern const double rounding;

/* Frees the text. Fails where it isn't JSON, holds NaN or infinity, or doesn't end its last line. */
json_t *parsed_json(char *text);

json_t *reading_json(const tdm_reading *reading);

/* By dotted path; fails where a name on the way is missing. */
json_t *at(json_t *object, const char *path);

/* null where value isn't finite, else that number but for rounding. */
void check_number(json_t *json, double value);

#endif
