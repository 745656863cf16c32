/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The numbers of a calibration file. */
#include <math.h>

#include "marks/calibration_file_parts.h"

static tdm_code read_curve(const tdm_marks_reader *reader, json_t *curve, int channel, tdm_calibration *out)
{
    static const char *const keys[] = {"in", "out", "slope", NULL};
    char place[TDM_KEY_PATH];
    tdm_key_item(place, "curves", (size_t)channel);
    tdm_code code = tdm_calibration_object(reader, curve, place, keys);
    if (code == TDM_OK && channel == 0) {
        const size_t knots = json_array_size(json_object_get(curve, "in"));
        if (knots < 2 || knots > TDM_CURVE_KNOTS)
            return tdm_key_fail(reader, "curves[0].in", "must be a list of 2 to 8 numbers");
        out->knots = (int)knots;
    }
    if (code == TDM_OK)
        code = tdm_calibration_child(reader, curve, place, "in", out->knots, out->curve_in[channel]);
    if (code == TDM_OK)
        code = tdm_calibration_child(reader, curve, place, "out", out->knots, out->curve_out[channel]);
    if (code == TDM_OK)
        code = tdm_calibration_child(reader, curve, place, "slope", out->knots, out->curve_slope[channel]);
    return code;
}

static tdm_code read_curves(const tdm_marks_reader *reader, const json_t *root, tdm_calibration *out)
{
    const json_t *list = json_object_get(root, "curves");
    tdm_code code = TDM_OK;
    if (!json_is_array(list) || (json_array_size(list) != 0 && json_array_size(list) != 3))
        return tdm_key_fail(reader, "curves", "must be a list of three curves, or empty");
    for (int c = 0; code == TDM_OK && c < (int)json_array_size(list); c++)
        code = read_curve(reader, json_array_get(list, (size_t)c), c, out);
    return code;
}

static tdm_code read_side(const tdm_marks_reader *reader, const json_t *light, size_t index, uint32_t *out)
{
    const json_t *size = json_object_get(light, "size"), *value = json_array_get(size, index);
    if (json_array_size(size) != 2 || !json_is_integer(value) || json_integer_value(value) < 1 ||
        json_integer_value(value) > 0x7fffffff)
        return tdm_key_fail(reader, "light.size", "must be [width, height] in whole pixels");
    *out = (uint32_t)json_integer_value(value);
    return TDM_OK;
}

static tdm_code read_stops(const tdm_marks_reader *reader, const json_t *object, tdm_light *out)
{
    const json_t *list = json_object_get(object, "stops");
    tdm_code code = TDM_OK;
    if (!json_is_array(list) || json_array_size(list) != 3)
        return tdm_key_fail(reader, "light.stops", "must be three lists of numbers");
    for (size_t c = 0; code == TDM_OK && c < 3; c++) {
        char place[TDM_KEY_PATH];
        tdm_key_item(place, "light.stops", c);
        code = tdm_calibration_list(reader, json_array_get(list, c), place, tdm_light_terms(out->degree),
                                    out->stops[c]);
    }
    return code;
}

static tdm_code read_light(const tdm_marks_reader *reader, const json_t *root, tdm_light *out)
{
    static const char *const keys[] = {"degree", "size", "stops", "misfit", NULL};
    json_t *object = json_object_get(root, "light");
    if (!object || json_is_null(object))
        return TDM_OK;
    tdm_code code = tdm_calibration_object(reader, object, "light", keys);
    if (code != TDM_OK)
        return code;
    const json_t *degree = json_object_get(object, "degree");
    if (!json_is_integer(degree) || json_integer_value(degree) < 1 || json_integer_value(degree) > 4)
        return tdm_key_fail(reader, "light.degree", "must be 1, 2, 3 or 4");
    out->degree = (int)json_integer_value(degree);
    code = read_side(reader, object, 0, &out->width);
    if (code == TDM_OK)
        code = read_side(reader, object, 1, &out->height);
    if (code == TDM_OK)
        code = read_stops(reader, object, out);
    if (code == TDM_OK)
        code = tdm_read_number(reader, json_object_get(object, "misfit"), "light.misfit", &out->misfit);
    return code;
}

static tdm_code read_drift(const tdm_marks_reader *reader, const json_t *root, tdm_calibration *out)
{
    static const char *const keys[] = {"stops_per_px", "variance", "middle", NULL};
    json_t *object = json_object_get(root, "drift");
    out->drift_var[0] = out->drift_var[1] = out->drift_var[2] = NAN;
    if (!object || json_is_null(object))
        return TDM_OK;
    tdm_code code = tdm_calibration_object(reader, object, "drift", keys);
    if (code == TDM_OK)
        code = tdm_calibration_child(reader, object, "drift", "stops_per_px", 2, out->drift);
    if (code == TDM_OK)
        code = tdm_calibration_child(reader, object, "drift", "variance", 3, out->drift_var);
    if (code == TDM_OK)
        code = tdm_calibration_child(reader, object, "drift", "middle", 2, out->middle);
    return code;
}

/* A number, or null for NaN. */
static tdm_code read_error(const tdm_marks_reader *reader, const json_t *object, const char *key, double *out)
{
    const json_t *value = json_object_get(object, key);
    char place[TDM_KEY_PATH];
    *out = NAN;
    if (!value || json_is_null(value))
        return TDM_OK;
    tdm_key_child(place, "de00", key);
    return tdm_read_number(reader, value, place, out);
}

static tdm_code read_errors(const tdm_marks_reader *reader, const json_t *root, tdm_calibration *out)
{
    static const char *const keys[] = {"before_mean",   "before_max", "mean", "max",
                                       "left_out_mean", "hair_mean",  NULL};
    double *const values[] = {&out->before_mean,  &out->before_max,    &out->residual_mean,
                              &out->residual_max, &out->left_out_mean, &out->hair_mean};
    json_t *object = json_object_get(root, "de00");
    tdm_code code = tdm_calibration_object(reader, object, "de00", keys);
    for (size_t i = 0; code == TDM_OK && keys[i]; i++)
        code = read_error(reader, object, keys[i], values[i]);
    if (code == TDM_OK)
        code = tdm_read_number(reader, json_object_get(root, "u_lstar"), "u_lstar", &out->u_lstar);
    if (code == TDM_OK)
        code = tdm_read_number(reader, json_object_get(root, "u_ab"), "u_ab", &out->u_ab);
    return code;
}

tdm_code tdm_calibration_numbers(const tdm_marks_reader *reader, const json_t *root, tdm_calibration *out)
{
    const json_t *roots = json_object_get(root, "from_roots");
    tdm_code code = tdm_calibration_child(reader, root, "", "to_rgb", 9, out->to_rgb);
    if (code == TDM_OK)
        code = read_curves(reader, root, out);
    if (code == TDM_OK)
        code = tdm_calibration_child(reader, root, "", "gain", 3, out->gain);
    if (code == TDM_OK)
        code = tdm_calibration_child(reader, root, "", "from_rgb", 9, out->from_rgb);
    out->rooted = roots && !json_is_null(roots);
    if (code == TDM_OK && out->rooted)
        code = tdm_calibration_list(reader, roots, "from_roots", 9, out->from_roots);
    if (code == TDM_OK)
        code = read_light(reader, root, &out->light);
    if (code == TDM_OK)
        code = read_drift(reader, root, out);
    return code == TDM_OK ? read_errors(reader, root, out) : code;
}
