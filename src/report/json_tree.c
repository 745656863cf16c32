/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/json_tree.h"

#include <math.h>
#include <string.h>

#include "base/fail.h"
#include "report/plain.h"

/* Less in any unit is rounding of the arithmetic, which differs between machines. */
static const double tiny = 1e-6;

static json_t *noted(tdm_json *json, json_t *made)
{
    if (!made)
        json->failed = true;
    return made;
}

json_t *tdm_json_object(tdm_json *json)
{
    return noted(json, json_object());
}

json_t *tdm_json_array(tdm_json *json)
{
    return noted(json, json_array());
}

json_t *tdm_json_number(tdm_json *json, double value)
{
    if (!isfinite(value))
        return json_null();
    return noted(json, json_real(fabs(value) < tiny ? 0 : value)); /* nor -0.0 */
}

json_t *tdm_json_string(tdm_json *json, const char *value)
{
    if (!value)
        return json_null();
    tdm_text valid = {0};
    tdm_add_valid(&valid, value);
    json_t *made = valid.failed ? NULL : json_stringn(valid.data ? valid.data : "", valid.size);
    tdm_text_free(&valid);
    return noted(json, made);
}

json_t *tdm_json_bool(bool value)
{
    return json_boolean(value);
}

json_t *tdm_json_lab(tdm_json *json, const double lab[3])
{
    json_t *made = tdm_json_array(json);
    for (size_t i = 0; i < 3; i++)
        tdm_json_append(json, made, tdm_json_number(json, lab[i]));
    return made;
}

json_t *tdm_json_value(tdm_json *json, tdm_value value)
{
    json_t *made = tdm_json_object(json);
    tdm_json_set(json, made, "value", tdm_json_number(json, value.value));
    tdm_json_set(json, made, "u", tdm_json_number(json, value.u));
    return made;
}

void tdm_json_set(tdm_json *json, json_t *object, const char *key, json_t *value)
{
    if (json_object_set_new(object, key, value) != 0)
        json->failed = true;
}

void tdm_json_set_numbers(tdm_json *json, json_t *object, const tdm_json_named *numbers)
{
    for (; numbers->key; numbers++)
        tdm_json_set(json, object, numbers->key, tdm_json_number(json, numbers->value));
}

void tdm_json_append(tdm_json *json, json_t *array, json_t *value)
{
    if (json_array_append_new(array, value) != 0)
        json->failed = true;
}

/* The object under the first `length` bytes of key, borrowed. */
static json_t *step_into(tdm_json *json, json_t *object, const char *key, size_t length)
{
    json_t *inner = json_object_getn(object, key, length);
    if (inner)
        return inner;
    inner = tdm_json_object(json);
    if (json_object_setn_new(object, key, length, inner) != 0)
        json->failed = true;
    return json_object_getn(object, key, length);
}

void tdm_json_set_path(tdm_json *json, json_t *object, const char *path, json_t *value)
{
    for (const char *dot = strchr(path, '.'); dot; dot = strchr(path, '.')) {
        object = step_into(json, object, path, (size_t)(dot - path));
        path = dot + 1;
    }
    tdm_json_set(json, object, path, value);
}

static int take(const char *bytes, size_t count, void *text)
{
    tdm_text_add_bytes(text, bytes, count);
    return ((const tdm_text *)text)->failed ? -1 : 0;
}

tdm_code tdm_json_text(tdm_json *json, json_t *root, char **out, tdm_error *error)
{
    /* Not json_dumps: in jansson 2.14 it goes on after a key for which it found no memory, and leaves that
     * out. Six digits say more than any photograph; jansson writes a full stop in every locale. */
    tdm_text text = {0};
    const int dumped =
        json->failed ? -1 : json_dump_callback(root, take, &text, JSON_INDENT(2) | JSON_REAL_PRECISION(6));
    json_decref(root);
    tdm_text_add(&text, "\n");
    if (dumped != 0 || text.failed) {
        tdm_text_free(&text);
        return tdm_fail_memory(error, NULL);
    }
    *out = text.data;
    return TDM_OK;
}
