/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Writes the calibration file. Its keys: FORMATS.md. */
#include <jansson.h>
#include <math.h>
#include <string.h>

#include "base/fail.h"
#include "base/file.h"
#include "marks/calibration_file.h"
#include "marks/calibration_file_parts.h"

const char *const tdm_calibration_methods[TDM_CALIBRATION_METHODS] = {"icc", "grey", "target"};

static json_t *number_json(double value)
{
    return isnan(value) ? json_null() : json_real(value);
}

static json_t *list_json(const double *values, int count)
{
    json_t *list = json_array();
    for (int i = 0; list && i < count; i++) {
        if (json_array_append_new(list, json_real(values[i])) != 0) {
            json_decref(list);
            return NULL;
        }
    }
    return list;
}

static json_t *curves_json(const tdm_calibration *from)
{
    json_t *list = json_array();
    for (int c = 0; list && from->knots > 0 && c < 3; c++) {
        json_t *curve = json_pack("{so, so, so}", "in", list_json(from->curve_in[c], from->knots), "out",
                                  list_json(from->curve_out[c], from->knots), "slope",
                                  list_json(from->curve_slope[c], from->knots));
        if (json_array_append_new(list, curve) != 0) {
            json_decref(list);
            return NULL;
        }
    }
    return list;
}

static json_t *light_json(const tdm_light *light)
{
    if (light->degree == 0)
        return json_null();
    const int terms = tdm_light_terms(light->degree);
    return json_pack("{si, s[I, I], s[o, o, o], so}", "degree", light->degree, "size",
                     (json_int_t)light->width, (json_int_t)light->height, "stops",
                     list_json(light->stops[0], terms), list_json(light->stops[1], terms),
                     list_json(light->stops[2], terms), "misfit", number_json(light->misfit));
}

static json_t *drift_json(const tdm_calibration *from)
{
    if (isnan(from->drift_var[0]))
        return json_null();
    return json_pack("{so, so, so}", "stops_per_px", list_json(from->drift, 2), "variance",
                     list_json(from->drift_var, 3), "middle", list_json(from->middle, 2));
}

static json_t *origin_json(const tdm_calibration_origin *origin)
{
    return json_pack("{so, so, so, so}", "photo", tdm_words_json(tdm_file_name(origin->photo)), "sha256",
                     tdm_words_json(origin->sha256), "taken", tdm_words_json(origin->taken), "profile",
                     tdm_words_json(origin->profile));
}

static json_t *de00_json(const tdm_calibration *from)
{
    return json_pack("{so, so, so, so, so, so}", "before_mean", number_json(from->before_mean), "before_max",
                     number_json(from->before_max), "mean", number_json(from->residual_mean), "max",
                     number_json(from->residual_max), "left_out_mean", number_json(from->left_out_mean),
                     "hair_mean", number_json(from->hair_mean));
}

static json_t *file_json(const tdm_calibration *from, const tdm_calibration_origin *origin)
{
    return json_pack("{si, so, so, ss, so, so, so, so, so, so, so, so, so, so}", "tidemark_calibration", 1,
                     "fitted_on", origin_json(origin), "reference", tdm_words_json(origin->reference),
                     "method", tdm_calibration_methods[from->method], "to_rgb", list_json(from->to_rgb, 9),
                     "curves", curves_json(from), "gain", list_json(from->gain, 3), "from_rgb",
                     list_json(from->from_rgb, 9), "from_roots",
                     from->rooted ? list_json(from->from_roots, 9) : json_null(), "light",
                     light_json(&from->light), "drift", drift_json(from), "de00", de00_json(from), "u_lstar",
                     number_json(from->u_lstar), "u_ab", number_json(from->u_ab));
}

tdm_code tdm_calibration_text(const tdm_calibration *calibration, const tdm_calibration_origin *origin,
                              char **out, tdm_error *error)
{
    json_t *root = file_json(calibration, origin);
    /* Seventeen digits bring a double back to its last bit. */
    char *text = root ? json_dumps(root, JSON_INDENT(2) | JSON_REAL_PRECISION(17)) : NULL;
    json_decref(root);
    if (!text)
        return tdm_fail_memory(error, NULL);
    *out = text;
    return TDM_OK;
}
