/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "marks/scale_file.h"

#include <stdlib.h>

#include "base/fail.h"
#include "base/file.h"
#include "base/text.h"
#include "marks/json_walk.h"

static const double lowest_level = 0, highest_level = 100;
static const double darkest = 1, lightest = 100; /* below 1 the level's formula tells nothing apart */

static const char *const known[] = {"tidemark_level_scale", "note", "entries", NULL};
static const char *const known_of_entry[] = {"level", "lstar", "name", NULL};

static tdm_code warn_unknown(const tdm_marks_reader *reader, json_t *object, const char *where,
                             const char *const *list)
{
    return tdm_warn_unknown_once(reader, object, where, list, "scale-unknown-key", "level scale");
}

static tdm_code read_between(const tdm_marks_reader *reader, const json_t *entry, const char *parent,
                             const char *key, double low, double high, double *out)
{
    char place[TDM_KEY_PATH];
    tdm_key_child(place, parent, key);
    const tdm_code code = tdm_read_number(reader, json_object_get(entry, key), place, out);
    if (code != TDM_OK)
        return code;
    if (!(*out >= low && *out <= high))
        return tdm_fail(reader->error, TDM_ERR_FORMAT, reader->file, place, "must be %d to %d", (int)low,
                        (int)high);
    return TDM_OK;
}

static tdm_code read_entry(const tdm_marks_reader *reader, json_t *entry, const char *key, size_t index,
                           tdm_level_scale *out)
{
    if (!json_is_object(entry))
        return tdm_key_fail(reader, key, "must be an object with level and lstar");
    tdm_code code = warn_unknown(reader, entry, key, known_of_entry);
    if (code == TDM_OK)
        code = read_between(reader, entry, key, "level", lowest_level, highest_level, &out->level[index]);
    if (code == TDM_OK)
        code = read_between(reader, entry, key, "lstar", darkest, lightest, &out->lstar[index]);
    const json_t *name = json_object_get(entry, "name");
    if (code == TDM_OK && name && !json_is_null(name)) {
        char place[TDM_KEY_PATH];
        tdm_key_child(place, key, "name");
        code = tdm_read_words(reader, name, place, out->name[index], sizeof out->name[index]);
    }
    return code;
}

static void add_entry(tdm_text *text, const tdm_level_scale *scale, size_t index)
{
    tdm_text_add(text, "level ");
    tdm_text_number(text, scale->level[index], 1, "");
    tdm_text_add(text, " (L* ");
    tdm_text_number(text, scale->lstar[index], 1, "");
    tdm_text_add(text, ")");
}

/* Against the entry before. */
static tdm_code check_rise(const tdm_marks_reader *reader, const tdm_level_scale *scale, size_t index,
                           const char *key)
{
    const bool higher = scale->level[index] > scale->level[index - 1];
    tdm_text text = {0};
    if (higher && scale->lstar[index] > scale->lstar[index - 1])
        return TDM_OK;
    add_entry(&text, scale, index);
    tdm_text_add(&text, higher ? " isn't lighter than " : " must not come after ");
    add_entry(&text, scale, index - 1);
    tdm_text_add(&text, higher ? "; leave one of them out" : "; list the levels upwards, each once");
    const tdm_code code =
        text.failed ? tdm_fail_memory(reader->error, reader->file) : tdm_key_fail(reader, key, text.data);
    tdm_text_free(&text);
    return code;
}

static tdm_code read_entries(const tdm_marks_reader *reader, const json_t *root, tdm_level_scale *out)
{
    const json_t *list = NULL;
    tdm_code code = tdm_read_list(reader, root, "entries", TDM_LEVEL_ENTRIES, &list);
    out->count = list ? json_array_size(list) : 0;
    if (code == TDM_OK && out->count < 2)
        return tdm_key_fail(reader, "entries", "must be a list of at least two levels with their L*");
    for (size_t i = 0; code == TDM_OK && i < out->count; i++) {
        char key[TDM_KEY_PATH];
        tdm_key_item(key, "entries", i);
        code = read_entry(reader, json_array_get(list, i), key, i, out);
        if (code == TDM_OK && i > 0)
            code = check_rise(reader, out, i, key);
    }
    return code;
}

static tdm_code read_version(const tdm_marks_reader *reader, const json_t *root)
{
    const json_t *value = json_object_get(root, "tidemark_level_scale");
    if (!json_is_integer(value))
        return tdm_key_fail(reader, "tidemark_level_scale", "must be 1; is this a level scale file?");
    if (json_integer_value(value) != 1)
        return tdm_key_fail(reader, "tidemark_level_scale",
                            "is of a version that this program doesn't know; use a newer Tidemark");
    return TDM_OK;
}

static tdm_code read_all(const tdm_marks_reader *reader, json_t *root, tdm_level_scale *out)
{
    if (!json_is_object(root))
        return tdm_fail(reader->error, TDM_ERR_FORMAT, reader->file, NULL,
                        "isn't a level scale file: it must be an object");
    tdm_code code = read_version(reader, root);
    if (code == TDM_OK)
        code = warn_unknown(reader, root, "", known);
    if (code == TDM_OK)
        code = tdm_read_words(reader, json_object_get(root, "note"), "note", out->note, sizeof out->note);
    if (code == TDM_OK)
        code = read_entries(reader, root, out);
    return code;
}

tdm_code tdm_scale_parse(const char *data, size_t size, const char *file, const tdm_limits *limits,
                         tdm_warnings *warnings, tdm_level_scale *out, tdm_error *error)
{
    const tdm_marks_reader reader = {.file = file, .limits = limits, .warnings = warnings, .error = error};
    json_t *root = NULL;
    tdm_level_scale scale = {0};
    tdm_code code = tdm_read_json(&reader, data, size, "a level scale file", &root);
    if (code == TDM_OK)
        code = read_all(&reader, root, &scale);
    if (code == TDM_OK)
        *out = scale;
    json_decref(root);
    return code;
}

tdm_code tdm_scale_load(const char *path, const tdm_limits *limits, tdm_warnings *warnings,
                        tdm_level_scale *out, tdm_error *error)
{
    tdm_bytes bytes = {0};
    tdm_code code = tdm_file_read(path, limits->marks_bytes, &bytes, error);
    if (code == TDM_OK)
        code = tdm_scale_parse((const char *)bytes.data, bytes.size, path, limits, warnings, out, error);
    free(bytes.data);
    return code;
}
