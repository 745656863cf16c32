/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lays a scene and single settings over the defaults. */
#include <string.h>

#include "scene.h"

static bool same_kind(const json_t *old, const json_t *new)
{
    return json_is_null(old) || json_is_null(new) || (json_is_number(old) && json_is_number(new)) ||
           (json_is_boolean(old) && json_is_boolean(new)) || json_typeof(old) == json_typeof(new);
}

/* Lays the values of `over` on `base`; only keys of the defaults exist. */
bool scn_lay_over(json_t *base, json_t *over)
{
    const char *key = NULL;
    json_t *value = NULL;
    json_object_foreach(over, key, value)
    {
        json_t *old = json_object_get(base, key);
        if (!old)
            return scn_fail(key, "no such key");
        if (!same_kind(old, value))
            return scn_fail(key, "wrong type");
        if (json_is_object(old) && json_is_object(value)) {
            if (!scn_lay_over(old, value))
                return false;
        } else if (json_object_set(base, key, value) < 0)
            return scn_fail(key, "out of memory");
    }
    return true;
}

/* "a.b=value" as {"a": {"b": value}}; what isn't JSON is a string. NULL when it can't be. */
static json_t *object_of(const char *set)
{
    const char *equals = strchr(set, '=');
    if (!equals || equals == set)
        return NULL;
    json_t *value = json_loads(equals + 1, JSON_DECODE_ANY, NULL);
    if (!value)
        value = json_string(equals + 1);
    const char *end = equals;
    while (value && end > set) {
        const char *start = end;
        while (start > set && start[-1] != '.')
            start--;
        json_t *outer = json_object(), *key = json_stringn(start, (size_t)(end - start));
        if (!outer || !key || json_object_set_new(outer, json_string_value(key), value) < 0) {
            json_decref(outer);
            outer = NULL;
        }
        json_decref(key);
        value = outer;
        end = start > set ? start - 1 : set;
    }
    return value;
}

bool scn_lay_set(json_t *params, const char *set)
{
    json_t *over = object_of(set);
    const bool good = over && scn_lay_over(params, over);
    if (!over)
        (void)scn_fail(set, "give it as key=value");
    json_decref(over);
    return good;
}
