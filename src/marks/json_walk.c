/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "marks/json_walk.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "base/text.h"

void tdm_key_child(char out[TDM_KEY_PATH], const char *parent, const char *key)
{
    (void)snprintf(out, TDM_KEY_PATH, "%s%s%s", parent, parent[0] ? "." : "", key);
}

void tdm_key_item(char out[TDM_KEY_PATH], const char *parent, size_t index)
{
    (void)snprintf(out, TDM_KEY_PATH, "%s[%zu]", parent, index);
}

tdm_code tdm_key_fail(const tdm_marks_reader *reader, const char *key, const char *what)
{
    return tdm_fail(reader->error, TDM_ERR_FORMAT, reader->file, key, "%s", what);
}

tdm_code tdm_read_json(const tdm_marks_reader *reader, const char *data, size_t size, const char *what,
                       json_t **out)
{
    char place[TDM_KEY_PATH];
    json_error_t why;
    if (size > reader->limits->marks_bytes)
        return tdm_fail(reader->error, TDM_ERR_LIMIT, reader->file, NULL,
                        "has %zu bytes, more than %s may have", size, what);
    *out = json_loadb(data, size, JSON_REJECT_DUPLICATES, &why);
    if (*out)
        return TDM_OK;
    if (json_error_code(&why) == json_error_out_of_memory)
        return tdm_fail_memory(reader->error, reader->file);
    (void)snprintf(place, sizeof place, "line %d, column %d", why.line, why.column);
    return tdm_fail(reader->error, TDM_ERR_FORMAT, reader->file, place, "isn't valid JSON: %s; mend it there",
                    why.text);
}

static int take(const char *bytes, size_t count, void *text)
{
    tdm_text_add_bytes(text, bytes, count);
    return ((const tdm_text *)text)->failed ? -1 : 0;
}

/* Not json_dumps: in jansson 2.14 it goes on after a key for which it found no memory, and leaves that out.
 */
tdm_code tdm_write_json(const json_t *root, size_t digits, char **out, tdm_error *error)
{
    tdm_text text = {0};
    const int failed = json_dump_callback(root, take, &text, JSON_INDENT(2) | JSON_REAL_PRECISION(digits));
    tdm_text_add(&text, "\n");
    if (failed != 0 || text.failed) {
        tdm_text_free(&text);
        return tdm_fail_memory(error, NULL);
    }
    *out = text.data;
    return TDM_OK;
}

tdm_code tdm_read_number(const tdm_marks_reader *reader, const json_t *value, const char *key, double *out)
{
    if (!value)
        return tdm_key_fail(reader, key, "is missing; give a number");
    if (!json_is_number(value))
        return tdm_key_fail(reader, key, "must be a number");
    *out = json_number_value(value);
    return isfinite(*out) ? TDM_OK : tdm_key_fail(reader, key, "must be a finite number");
}

tdm_code tdm_read_point(const tdm_marks_reader *reader, const json_t *value, const char *key, double out[2])
{
    if (!json_is_array(value) || json_array_size(value) != 2)
        return tdm_key_fail(reader, key, "must be a point [x, y]");
    for (size_t i = 0; i < 2; i++) {
        char place[TDM_KEY_PATH];
        tdm_key_item(place, key, i);
        const tdm_code code = tdm_read_number(reader, json_array_get(value, i), place, &out[i]);
        if (code != TDM_OK)
            return code;
    }
    if (out[0] < 0 || out[1] < 0 || out[0] > reader->width || out[1] > reader->height)
        return tdm_key_fail(reader, key, "lies outside the picture; mark it inside");
    return TDM_OK;
}

tdm_code tdm_read_points(const tdm_marks_reader *reader, const json_t *value, const char *key, size_t least,
                         tdm_polyline *out)
{
    const size_t count = json_array_size(value);
    if (!json_is_array(value) || count < least)
        return tdm_fail(reader->error, TDM_ERR_FORMAT, reader->file, key,
                        "must be a list of at least %zu points [x, y]", least);
    if (count > reader->limits->points)
        return tdm_fail(reader->error, TDM_ERR_LIMIT, reader->file, key, "has %zu points and the limit is %u",
                        count, reader->limits->points);
    out->xy = calloc(2 * count, sizeof *out->xy);
    if (!out->xy)
        return tdm_fail_memory(reader->error, reader->file);
    out->count = count;
    for (size_t i = 0; i < count; i++) {
        char place[TDM_KEY_PATH];
        tdm_key_item(place, key, i);
        const tdm_code code = tdm_read_point(reader, json_array_get(value, i), place, out->xy + 2 * i);
        if (code != TDM_OK)
            return code;
    }
    return TDM_OK;
}

tdm_code tdm_read_name(const tdm_marks_reader *reader, const json_t *value, const char *key, size_t most,
                       char **out)
{
    if (!json_is_string(value))
        return tdm_key_fail(reader, key, value ? "must be text" : "is missing; give a name");
    const char *text = json_string_value(value);
    const size_t length = json_string_length(value);
    if (length == 0 || length > most || strlen(text) != length || !tdm_printable(text))
        return tdm_fail(reader->error, TDM_ERR_FORMAT, reader->file, key,
                        "must be 1 to %zu printable characters", most);
    *out = strdup(text);
    return *out ? TDM_OK : tdm_fail_memory(reader->error, reader->file);
}

tdm_code tdm_read_words(const tdm_marks_reader *reader, const json_t *value, const char *key, char *out,
                        size_t room)
{
    char *text = NULL;
    out[0] = '\0';
    if (json_is_string(value) && json_string_length(value) == 0)
        return TDM_OK;
    const tdm_code code = tdm_read_name(reader, value, key, room - 1, &text);
    if (code == TDM_OK)
        (void)snprintf(out, room, "%s", text);
    free(text);
    return code;
}

tdm_code tdm_read_list(const tdm_marks_reader *reader, const json_t *root, const char *key, uint32_t most,
                       const json_t **out)
{
    const json_t *list = json_object_get(root, key);
    *out = NULL;
    if (!list || json_is_null(list))
        return TDM_OK;
    if (!json_is_array(list))
        return tdm_key_fail(reader, key, "must be a list");
    if (json_array_size(list) > most)
        return tdm_fail(reader->error, TDM_ERR_LIMIT, reader->file, key,
                        "has %zu entries and the limit is %u", json_array_size(list), most);
    *out = list;
    return TDM_OK;
}
