/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "marks/parse_references.h"
#include "marks/parse_swatches.h"
#include "marks/parse_zone.h"

static const char *const known[] = {"tidemark_marks", "photo",    "size",    "scale", "target",
                                    "grey",           "swatches", "exclude", "zones", NULL};

static tdm_code read_version(const tdm_marks_reader *reader, const json_t *root)
{
    const json_t *value = json_object_get(root, "tidemark_marks");
    if (!json_is_integer(value))
        return tdm_key_fail(reader, "tidemark_marks", "must be 1; is this a marks file?");
    if (json_integer_value(value) != 1)
        return tdm_key_fail(reader, "tidemark_marks",
                            "is of a version that this program doesn't know; use a newer Tidemark");
    return TDM_OK;
}

static tdm_code read_side(const tdm_marks_reader *reader, const json_t *size, size_t index, uint32_t *out)
{
    const json_t *value = json_array_get(size, index);
    if (!json_is_integer(value) || json_integer_value(value) < 1 || json_integer_value(value) > 0x7fffffff)
        return tdm_key_fail(reader, "size", "must be [width, height] in whole pixels");
    *out = (uint32_t)json_integer_value(value);
    return TDM_OK;
}

static tdm_code read_size(tdm_marks_reader *reader, const json_t *root, uint32_t photo_width,
                          uint32_t photo_height, tdm_marks *out)
{
    const json_t *size = json_object_get(root, "size");
    if (json_array_size(size) != 2)
        return tdm_key_fail(reader, "size", "must be [width, height] in whole pixels");
    tdm_code code = read_side(reader, size, 0, &out->width);
    if (code == TDM_OK)
        code = read_side(reader, size, 1, &out->height);
    if (code != TDM_OK)
        return code;
    if (photo_width && (out->width != photo_width || out->height != photo_height))
        return tdm_fail(
            reader->error, TDM_ERR_FORMAT, reader->file, "size",
            "is %u by %u, but the upright photograph has %u by %u pixels; mark this photograph anew",
            out->width, out->height, photo_width, photo_height);
    reader->width = out->width;
    reader->height = out->height;
    return TDM_OK;
}

static tdm_code read_excludes(const tdm_marks_reader *reader, const json_t *root, tdm_marks *out)
{
    const json_t *list = NULL;
    /* Each polygon costs a pass over its pixels, so their number is bounded as the zones' is. */
    tdm_code code = tdm_read_list(reader, root, "exclude", 4 * reader->limits->zones, &list);
    const size_t count = list ? json_array_size(list) : 0;
    if (code != TDM_OK || count == 0)
        return code;
    out->excludes = calloc(count, sizeof *out->excludes);
    if (!out->excludes)
        return tdm_fail_memory(reader->error, reader->file);
    for (size_t i = 0; code == TDM_OK && i < count; i++) {
        char key[TDM_KEY_PATH];
        tdm_key_item(key, "exclude", i);
        out->exclude_count = i + 1;
        code = tdm_read_points(reader, json_array_get(list, i), key, 3, &out->excludes[i]);
    }
    return code;
}

static tdm_code check_distinct(const tdm_marks_reader *reader, const tdm_marks *marks, size_t index,
                               const char *key)
{
    for (size_t i = 0; i < index; i++) {
        if (strcmp(marks->zones[i].name, marks->zones[index].name) == 0) {
            char place[TDM_KEY_PATH];
            tdm_key_child(place, key, "name");
            return tdm_key_fail(reader, place, "is the name of an earlier zone too; name each its own");
        }
    }
    return TDM_OK;
}

static tdm_code read_zones(const tdm_marks_reader *reader, const json_t *root, tdm_marks *out)
{
    const json_t *list = NULL;
    tdm_code code = tdm_read_list(reader, root, "zones", reader->limits->zones, &list);
    const size_t count = list ? json_array_size(list) : 0;
    /* A photograph of a target or of swatches has no hair to follow; who needs zones asks for them. */
    if (code != TDM_OK || count == 0)
        return code;
    out->zones = calloc(count, sizeof *out->zones);
    if (!out->zones)
        return tdm_fail_memory(reader->error, reader->file);
    for (size_t i = 0; code == TDM_OK && i < count; i++) {
        char key[TDM_KEY_PATH];
        tdm_key_item(key, "zones", i);
        out->zone_count = i + 1;
        code = tdm_parse_zone(reader, json_array_get(list, i), key, &out->zones[i]);
        if (code == TDM_OK)
            code = check_distinct(reader, out, i, key);
    }
    return code;
}

static tdm_code read_all(tdm_marks_reader *reader, const json_t *root, uint32_t photo_width,
                         uint32_t photo_height, tdm_marks *out)
{
    if (!json_is_object(root))
        return tdm_fail(reader->error, TDM_ERR_FORMAT, reader->file, NULL,
                        "isn't a marks file: it must be an object");
    tdm_code code = read_version(reader, root);
    if (code == TDM_OK)
        code = tdm_warn_unknown(reader, root, "", known);
    if (code == TDM_OK)
        code = tdm_read_name(reader, json_object_get(root, "photo"), "photo", 1024, &out->photo);
    if (code == TDM_OK)
        code = read_size(reader, root, photo_width, photo_height, out);
    if (code == TDM_OK)
        code = tdm_parse_scale(reader, root, out);
    if (code == TDM_OK)
        code = tdm_parse_target(reader, root, out);
    if (code == TDM_OK)
        code = tdm_parse_greys(reader, root, out);
    if (code == TDM_OK)
        code = tdm_parse_swatches(reader, root, out);
    if (code == TDM_OK)
        code = read_excludes(reader, root, out);
    if (code == TDM_OK)
        code = read_zones(reader, root, out);
    return code;
}

tdm_code tdm_marks_parse(const char *data, size_t size, const char *file, uint32_t photo_width,
                         uint32_t photo_height, const tdm_limits *limits, tdm_warnings *warnings,
                         tdm_marks *out, tdm_error *error)
{
    tdm_marks_reader reader = {.file = file, .limits = limits, .warnings = warnings, .error = error};
    json_t *root = NULL;
    tdm_code code = tdm_read_json(&reader, data, size, "a marks file", &root);
    if (code != TDM_OK)
        return code;
    tdm_marks marks = {.mm_per_px = NAN, .json = root};
    code = read_all(&reader, root, photo_width, photo_height, &marks);
    if (code == TDM_OK)
        *out = marks;
    else
        tdm_marks_free(&marks);
    return code;
}
