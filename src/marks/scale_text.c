/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Writes the level scale file. */
#include <math.h>
#include <string.h>

#include "base/fail.h"
#include "marks/json_walk.h"
#include "marks/scale_file.h"

/* A file name in a note may be in any encoding. */
static json_t *text_json(const char *text)
{
    char plain[sizeof((tdm_level_scale *)0)->note];
    json_t *made = json_string(text);
    const size_t length = strnlen(text, sizeof plain - 1);
    bool ascii = true;
    for (size_t i = 0; i < length; i++) {
        const bool one = (unsigned char)text[i] < 0x80;
        plain[i] = one ? text[i] : '?';
        ascii = ascii && one;
    }
    plain[length] = '\0';
    return made || ascii ? made : json_string(plain);
}

static json_t *number_json(double value)
{
    return value == floor(value) ? json_integer((json_int_t)value) : json_real(value);
}

static json_t *entry_json(const tdm_level_scale *scale, size_t index)
{
    json_t *made = json_pack("{so, so}", "level", number_json(scale->level[index]), "lstar",
                             json_real(scale->lstar[index]));
    if (made && scale->name[index][0] &&
        json_object_set_new(made, "name", text_json(scale->name[index])) != 0) {
        json_decref(made);
        return NULL;
    }
    return made;
}

static json_t *entries_json(const tdm_level_scale *scale)
{
    json_t *list = json_array();
    for (size_t i = 0; list && i < scale->count; i++) {
        if (json_array_append_new(list, entry_json(scale, i)) != 0) {
            json_decref(list);
            return NULL;
        }
    }
    return list;
}

tdm_code tdm_scale_text(const tdm_level_scale *scale, char **out, tdm_error *error)
{
    json_t *root = json_pack("{si, so, so}", "tidemark_level_scale", 1, "note", text_json(scale->note),
                             "entries", entries_json(scale));
    if (!root)
        return tdm_fail_memory(error, NULL);
    /* Eight digits keep apart what rises by a hair. */
    const tdm_code code = tdm_write_json(root, 8, out, error);
    json_decref(root);
    return code;
}
