/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "marks/parse_zone.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"

enum { LONGEST_NAME = 80 };
static const double furthest_root = 1000; /* mm: no hair is read further down */
static const double widest = 1e6;         /* px or mm: beyond any photograph of a head */

static const char *const known[] = {"name",     "side",     "weight",  "path",
                                    "width_mm", "width_px", "root_mm", NULL};

static tdm_code read_width(const tdm_marks_reader *reader, const json_t *value, const char *key, double *out)
{
    const tdm_code code = tdm_read_number(reader, value, key, out);
    if (code != TDM_OK)
        return code;
    return *out > 0 && *out <= widest ? TDM_OK
                                      : tdm_key_fail(reader, key, "must be above 0 and of sensible size");
}

/* One number for all points, or one a point. */
static tdm_code read_widths(const tdm_marks_reader *reader, const json_t *value, const char *key,
                            tdm_zone_marks *out)
{
    const size_t count = out->path.count;
    out->widths = calloc(count, sizeof *out->widths);
    if (!out->widths)
        return tdm_fail_memory(reader->error, reader->file);
    if (json_is_array(value) && json_array_size(value) != count)
        return tdm_key_fail(reader, key, "must be one number, or one for each point of the path");
    for (size_t i = 0; i < count; i++) {
        char place[TDM_KEY_PATH];
        tdm_key_item(place, key, i);
        const tdm_code code = json_is_array(value)
                                  ? read_width(reader, json_array_get(value, i), place, &out->widths[i])
                                  : read_width(reader, value, key, &out->widths[i]);
        if (code != TDM_OK)
            return code;
    }
    return TDM_OK;
}

static tdm_code choose_width(const tdm_marks_reader *reader, const json_t *zone, const char *key,
                             tdm_zone_marks *out)
{
    const json_t *mm = json_object_get(zone, "width_mm"), *px = json_object_get(zone, "width_px");
    char place[TDM_KEY_PATH];
    tdm_key_child(place, key, mm ? "width_mm" : "width_px");
    if (!mm == !px)
        return tdm_key_fail(reader, key, "needs either width_mm or width_px");
    out->width_in_mm = mm != NULL;
    return read_widths(reader, mm ? mm : px, place, out);
}

static tdm_code read_path(const tdm_marks_reader *reader, const json_t *zone, const char *key,
                          tdm_zone_marks *out)
{
    char place[TDM_KEY_PATH];
    tdm_key_child(place, key, "path");
    const tdm_code code = tdm_read_points(reader, json_object_get(zone, "path"), place, 2, &out->path);
    if (code != TDM_OK)
        return code;
    for (size_t i = 1; i < out->path.count; i++) {
        const double *here = out->path.xy + 2 * i;
        if (hypot(here[0] - here[-2], here[1] - here[-1]) < 1e-6) {
            char point[TDM_KEY_PATH];
            tdm_key_item(point, place, i);
            return tdm_key_fail(reader, point, "is the same as the point before it; leave one out");
        }
    }
    return TDM_OK;
}

static tdm_code read_weight(const tdm_marks_reader *reader, const json_t *zone, const char *key, double *out)
{
    const json_t *value = json_object_get(zone, "weight");
    char place[TDM_KEY_PATH];
    *out = 1;
    if (!value)
        return TDM_OK;
    tdm_key_child(place, key, "weight");
    const tdm_code code = tdm_read_number(reader, value, place, out);
    if (code != TDM_OK)
        return code;
    return *out > 0 && *out <= 1000 ? TDM_OK : tdm_key_fail(reader, place, "must be above 0, at most 1000");
}

static tdm_code read_root(const tdm_marks_reader *reader, const json_t *zone, const char *key, double *out)
{
    const json_t *value = json_object_get(zone, "root_mm");
    char place[TDM_KEY_PATH];
    *out = 0;
    if (!value)
        return TDM_OK;
    tdm_key_child(place, key, "root_mm");
    const tdm_code code = tdm_read_number(reader, value, place, out);
    if (code != TDM_OK)
        return code;
    return *out >= 0 && *out <= furthest_root ? TDM_OK : tdm_key_fail(reader, place, "must be 0 to 1000");
}

tdm_code tdm_parse_zone(const tdm_marks_reader *reader, const json_t *value, const char *key,
                        tdm_zone_marks *out)
{
    char place[TDM_KEY_PATH];
    tdm_code code =
        tdm_check_object(reader, value, key, "must be an object with name, path and width", known);
    if (code == TDM_OK) {
        tdm_key_child(place, key, "name");
        code = tdm_read_name(reader, json_object_get(value, "name"), place, LONGEST_NAME, &out->name);
    }
    if (code == TDM_OK && json_object_get(value, "side") && !json_is_null(json_object_get(value, "side"))) {
        tdm_key_child(place, key, "side");
        code = tdm_read_name(reader, json_object_get(value, "side"), place, LONGEST_NAME, &out->side);
    }
    if (code == TDM_OK)
        code = read_weight(reader, value, key, &out->weight);
    if (code == TDM_OK)
        code = read_path(reader, value, key, out);
    if (code == TDM_OK)
        code = choose_width(reader, value, key, out);
    if (code == TDM_OK)
        code = read_root(reader, value, key, &out->root_mm);
    return code;
}
