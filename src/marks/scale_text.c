/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Writes the level scale file. */
#include <math.h>

#include "base/fail.h"
#include "marks/json_walk.h"
#include "marks/scale_file.h"

static json_t *number_json(double value)
{
    return value == floor(value) ? json_integer((json_int_t)value) : json_real(value);
}

static json_t *entry_json(const tdm_level_scale *scale, size_t index)
{
    json_t *made = json_pack("{so, so}", "level", number_json(scale->level[index]), "lstar",
                             json_real(scale->lstar[index]));
    if (made && scale->name[index][0] &&
        json_object_set_new(made, "name", tdm_words_json(scale->name[index])) != 0) {
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
    json_t *root = json_pack("{si, so, so}", "tidemark_level_scale", 1, "note", tdm_words_json(scale->note),
                             "entries", entries_json(scale));
    if (!root)
        return tdm_fail_memory(error, NULL);
    /* Eight digits keep apart what rises by a hair. */
    const tdm_code code = tdm_write_json(root, 8, out, error);
    json_decref(root);
    return code;
}
