/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include "marks/json_walk.h"

/* A file of nothing but unknown keys mustn't drown the warnings that matter. */
enum { MOST_WARNINGS = 20 };

static bool is_known(const char *key, const char *const *known)
{
    for (; *known; known++) {
        if (strcmp(key, *known) == 0)
            return true;
    }
    return false;
}

static size_t warned(const tdm_warnings *warnings)
{
    size_t count = 0;
    for (size_t i = 0; i < warnings->count; i++)
        count += strcmp(warnings->items[i].code, "marks-unknown-key") == 0;
    return count;
}

tdm_code tdm_warn_unknown(const tdm_marks_reader *reader, const json_t *object, const char *parent,
                          const char *const *known)
{
    /* jansson iterates over an object in the order of the file. */
    for (void *at = json_object_iter((json_t *)object); at;
         at = json_object_iter_next((json_t *)object, at)) {
        const char *key = json_object_iter_key(at);
        char place[TDM_KEY_PATH];
        if (is_known(key, known) || warned(reader->warnings) >= MOST_WARNINGS)
            continue;
        tdm_key_child(place, parent, tdm_printable(key) ? key : "(unprintable)");
        const tdm_code code = tdm_warn(reader->warnings, reader->error, "marks-unknown-key", NULL,
                                       "marks: %s isn't known and is left alone", place);
        if (code != TDM_OK)
            return code;
    }
    return TDM_OK;
}

tdm_code tdm_check_object(const tdm_marks_reader *reader, const json_t *value, const char *key,
                          const char *what, const char *const *known)
{
    return json_is_object(value) ? tdm_warn_unknown(reader, value, key, known)
                                 : tdm_key_fail(reader, key, what);
}

tdm_code tdm_warn_unknown_once(const tdm_marks_reader *reader, json_t *object, const char *where,
                               const char *const *known, const char *code, const char *what)
{
    const char *key;
    json_t *value;
    json_object_foreach(object, key, value)
    {
        if (is_known(key, known) || tdm_warnings_have(reader->warnings, code))
            continue;
        return tdm_warn(reader->warnings, reader->error, code, NULL,
                        "%s: a key in %s isn't known and is left alone", what, where[0] ? where : "the file");
    }
    return TDM_OK;
}
