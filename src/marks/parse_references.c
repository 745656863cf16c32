/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "marks/parse_references.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"

static const double least_width = 1, most_width = 5000; /* mm: of a target or card */

tdm_code tdm_parse_scale(const tdm_marks_reader *reader, const json_t *root, tdm_marks *out)
{
    static const char *const keys[] = {"from", "to", "mm", NULL};
    const json_t *scale = json_object_get(root, "scale");
    double from[2], to[2], mm = 0;
    out->mm_per_px = NAN;
    if (!scale || json_is_null(scale))
        return TDM_OK;
    tdm_code code = tdm_check_object(reader, scale, "scale", "must be an object with from, to and mm", keys);
    if (code == TDM_OK)
        code = tdm_read_point(reader, json_object_get(scale, "from"), "scale.from", from);
    if (code == TDM_OK)
        code = tdm_read_point(reader, json_object_get(scale, "to"), "scale.to", to);
    if (code == TDM_OK)
        code = tdm_read_number(reader, json_object_get(scale, "mm"), "scale.mm", &mm);
    if (code != TDM_OK)
        return code;
    const double px = hypot(to[0] - from[0], to[1] - from[1]);
    if (!(mm > 0 && mm <= 1e5))
        return tdm_key_fail(reader, "scale.mm", "must be above 0: the length of the scale in millimetres");
    if (px < 1)
        return tdm_key_fail(reader, "scale", "has no length; mark its two ends apart");
    out->has_scale = true;
    out->mm_per_px = mm / px;
    out->scale_px = px;
    return TDM_OK;
}

/* A known width, NaN where none is given. what: of what. */
static tdm_code read_width(const tdm_marks_reader *reader, const json_t *object, const char *parent,
                           const char *what, double *out)
{
    const json_t *value = json_object_get(object, "width_mm");
    char place[TDM_KEY_PATH], text[128];
    double mm = 0;
    *out = NAN;
    if (!value || json_is_null(value))
        return TDM_OK;
    tdm_key_child(place, parent, "width_mm");
    const tdm_code code = tdm_read_number(reader, value, place, &mm);
    if (code != TDM_OK)
        return code;
    if (!(mm >= least_width && mm <= most_width)) {
        (void)snprintf(text, sizeof text, "must be 1 to 5000: %s in millimetres", what);
        return tdm_key_fail(reader, place, text);
    }
    *out = mm;
    return TDM_OK;
}

/* Twice the signed area of a triangle. */
static double turn(const double *a, const double *b, const double *c)
{
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
}

static bool convex(const double corners[8])
{
    double sign = 0;
    for (size_t i = 0; i < 4; i++) {
        const double here = turn(corners + 2 * i, corners + 2 * ((i + 1) % 4), corners + 2 * ((i + 2) % 4));
        if (fabs(here) < 1 || here * sign < 0)
            return false;
        sign = here;
    }
    return true;
}

tdm_code tdm_parse_target(const tdm_marks_reader *reader, const json_t *root, tdm_marks *out)
{
    static const char *const keys[] = {"kind", "corners", "width_mm", NULL};
    const json_t *target = json_object_get(root, "target");
    out->target_width_mm = NAN;
    if (!target || json_is_null(target))
        return TDM_OK;
    if (!json_is_object(target))
        return tdm_key_fail(reader, "target", "must be an object with kind and corners");
    const char *kind = json_string_value(json_object_get(target, "kind"));
    if (!kind || strcmp(kind, "patch24") != 0)
        return tdm_key_fail(reader, "target.kind", "must be \"patch24\", the 24-patch target");
    tdm_polyline corners = {0};
    tdm_code code = tdm_warn_unknown(reader, target, "target", keys);
    if (code == TDM_OK)
        code = tdm_read_points(reader, json_object_get(target, "corners"), "target.corners", 4, &corners);
    if (code == TDM_OK && corners.count != 4)
        code = tdm_key_fail(reader, "target.corners", "must be four points");
    if (code == TDM_OK)
        code = read_width(reader, target, "target", "the outer width of the block of patches",
                          &out->target_width_mm);
    if (code == TDM_OK) {
        memcpy(out->corners, corners.xy, sizeof out->corners);
        out->has_target = true;
        if (!convex(out->corners))
            code = tdm_key_fail(reader, "target.corners",
                                "must go round the target: at dark skin, bluish green, black, white");
    }
    free(corners.xy);
    return code;
}

static tdm_code read_grey(const tdm_marks_reader *reader, const json_t *value, const char *key,
                          tdm_grey_marks *out)
{
    static const char *const keys[] = {"polygon", "lstar", "width_mm", NULL};
    char place[TDM_KEY_PATH];
    out->width_mm = NAN;
    tdm_code code = tdm_check_object(reader, value, key, "must be an object with polygon and lstar", keys);
    if (code == TDM_OK) {
        tdm_key_child(place, key, "polygon");
        code = tdm_read_points(reader, json_object_get(value, "polygon"), place, 3, &out->polygon);
    }
    if (code == TDM_OK) {
        tdm_key_child(place, key, "lstar");
        code = tdm_read_number(reader, json_object_get(value, "lstar"), place, &out->lstar);
    }
    if (code == TDM_OK && !(out->lstar > 0 && out->lstar <= 100))
        code = tdm_key_fail(reader, place, "must be above 0, at most 100");
    if (code == TDM_OK)
        code = read_width(reader, value, key, "the polygon's longest side", &out->width_mm);
    return code;
}

tdm_code tdm_parse_greys(const tdm_marks_reader *reader, const json_t *root, tdm_marks *out)
{
    const json_t *list = NULL;
    tdm_code code = tdm_read_list(reader, root, "grey", reader->limits->zones, &list);
    const size_t count = list ? json_array_size(list) : 0;
    if (code != TDM_OK || count == 0)
        return code;
    out->greys = calloc(count, sizeof *out->greys);
    if (!out->greys)
        return tdm_fail_memory(reader->error, reader->file);
    for (size_t i = 0; code == TDM_OK && i < count; i++) {
        char key[TDM_KEY_PATH];
        tdm_key_item(key, "grey", i);
        out->grey_count = i + 1;
        code = read_grey(reader, json_array_get(list, i), key, &out->greys[i]);
    }
    return code;
}
