/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "marks/parse_swatches.h"

#include <math.h>
#include <stdlib.h>

#include "base/fail.h"

/* A name must fit into the level scale it ends in. */
enum { LONGEST_NAME = 31 };
static const double lowest = 1, highest = 12;

static const char *const known[] = {"level", "polygon", "name", NULL};

static tdm_code read_level(const tdm_marks_reader *reader, const json_t *value, const char *place,
                           double *out)
{
    const tdm_code code = tdm_read_number(reader, value, place, out);
    if (code != TDM_OK)
        return code;
    if (!(*out >= lowest && *out <= highest) || 2 * *out != floor(2 * *out))
        return tdm_key_fail(reader, place, "must be a whole or half level from 1 to 12");
    return TDM_OK;
}

static tdm_code read_swatch(const tdm_marks_reader *reader, const json_t *value, const char *key,
                            tdm_swatch_marks *out)
{
    char place[TDM_KEY_PATH];
    tdm_code code = tdm_check_object(reader, value, key, "must be an object with level and polygon", known);
    if (code == TDM_OK) {
        tdm_key_child(place, key, "level");
        code = read_level(reader, json_object_get(value, "level"), place, &out->level);
    }
    if (code == TDM_OK) {
        tdm_key_child(place, key, "polygon");
        code = tdm_read_points(reader, json_object_get(value, "polygon"), place, 3, &out->polygon);
    }
    const json_t *name = json_object_get(value, "name");
    if (code == TDM_OK && name && !json_is_null(name)) {
        tdm_key_child(place, key, "name");
        code = tdm_read_name(reader, name, place, LONGEST_NAME, &out->name);
    }
    return code;
}

static tdm_code check_distinct(const tdm_marks_reader *reader, const tdm_swatch_marks *swatches, size_t index,
                               const char *key)
{
    for (size_t i = 0; i < index; i++) {
        if (swatches[i].level == swatches[index].level) {
            char place[TDM_KEY_PATH];
            tdm_key_child(place, key, "level");
            return tdm_fail(reader->error, TDM_ERR_FORMAT, reader->file, place,
                            "is the level of swatches[%zu] too; mark each level once", i);
        }
    }
    return TDM_OK;
}

tdm_code tdm_parse_swatches(const tdm_marks_reader *reader, const json_t *root, tdm_marks *out)
{
    const json_t *list = NULL;
    tdm_code code = tdm_read_list(reader, root, "swatches", reader->limits->zones, &list);
    const size_t count = list ? json_array_size(list) : 0;
    if (code != TDM_OK || count == 0)
        return code;
    out->swatches = calloc(count, sizeof *out->swatches);
    if (!out->swatches)
        return tdm_fail_memory(reader->error, reader->file);
    for (size_t i = 0; code == TDM_OK && i < count; i++) {
        char key[TDM_KEY_PATH];
        tdm_key_item(key, "swatches", i);
        out->swatch_count = i + 1;
        code = read_swatch(reader, json_array_get(list, i), key, &out->swatches[i]);
        if (code == TDM_OK)
            code = check_distinct(reader, out->swatches, i, key);
    }
    return code;
}
