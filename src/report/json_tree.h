/* SPDX-License-Identifier: GPL-3.0-or-later */
/* JSON built so that a failed allocation is noticed once, at the end. */
#ifndef TDM_REPORT_JSON_TREE_H
#define TDM_REPORT_JSON_TREE_H

#include <jansson.h>
#include <stdbool.h>

#include "tidemark/comparison.h"

/* Starts as {0}; shared by everything that goes into one text. */
typedef struct tdm_json {
    bool failed;
} tdm_json;

/* New references, NULL only after a failure that is noted. */
json_t *tdm_json_object(tdm_json *json);
json_t *tdm_json_array(tdm_json *json);
json_t *tdm_json_number(tdm_json *json, double value);      /* null where not finite, 0 under 1e-6 */
json_t *tdm_json_string(tdm_json *json, const char *value); /* null for NULL */
json_t *tdm_json_bool(bool value);
json_t *tdm_json_lab(tdm_json *json, const double lab[3]);
json_t *tdm_json_value(tdm_json *json, tdm_value value); /* {"value", "u"} */

/* Both take the reference of value. */
void tdm_json_set(tdm_json *json, json_t *object, const char *key, json_t *value);
void tdm_json_append(tdm_json *json, json_t *array, json_t *value);
/* A number under each name, NULL for the name ends the list. */
typedef struct tdm_json_named {
    const char *key;
    double value;
} tdm_json_named;
void tdm_json_set_numbers(tdm_json *json, json_t *object, const tdm_json_named *numbers);
/* As tdm_json_set, at "gradient.centre_mm": the objects on the way are made where they are missing. */
void tdm_json_set_path(tdm_json *json, json_t *object, const char *path, json_t *value);

/* Takes the reference of root. */
TDM_MUST_CHECK tdm_code tdm_json_text(tdm_json *json, json_t *root, char **out, tdm_error *error);

json_t *tdm_json_libraries(tdm_json *json);
json_t *tdm_json_photo(tdm_json *json, const tdm_photo_facts *facts);

/* The zone object of a reading; with_scale says what profile points are measured along. */
json_t *tdm_json_zone(tdm_json *json, const tdm_zone_reading *zone, bool with_scale);
json_t *tdm_json_warnings(tdm_json *json, const tdm_warning *warnings, size_t count);
json_t *tdm_json_reading(tdm_json *json, const tdm_reading *reading);

#endif
