/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "keys.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

bool scn_fail(const char *place, const char *what)
{
    fprintf(stderr, "tidemark-scene: %s: %s\n", place, what);
    return false;
}

const json_t *scn_key(const json_t *params, const char *path)
{
    char part[64];
    while (params && *path) {
        const size_t length = strcspn(path, ".");
        if (length >= sizeof part)
            return NULL;
        memcpy(part, path, length);
        part[length] = '\0';
        params = json_object_get(params, part);
        path += path[length] ? length + 1 : length;
    }
    return params;
}

/* `good` falls where the value isn't a number in range. */
double scn_number(const json_t *params, const char *path, double low, double high, bool *good)
{
    const json_t *value = scn_key(params, path);
    const double number = json_number_value(value);
    if (!json_is_number(value) || !(number >= low && number <= high))
        *good = scn_fail(path, "not a number in range");
    return number;
}

/* NaN where the key holds null. */
double scn_optional(const json_t *params, const char *path, double low, double high, bool *good)
{
    return json_is_null(scn_key(params, path)) ? NAN : scn_number(params, path, low, high, good);
}

const char *scn_text(const json_t *params, const char *path)
{
    return json_string_value(scn_key(params, path));
}

/* The place of the text in the list of words, or -1 with a complaint. */
int scn_choice(const json_t *params, const char *path, const char *const *words, bool *good)
{
    const char *value = scn_text(params, path);
    for (int i = 0; value && words[i]; i++) {
        if (strcmp(value, words[i]) == 0)
            return i;
    }
    *good = scn_fail(path, "not one of the words it may be");
    return 0;
}

double scn_element(const json_t *params, const char *path, size_t i, double low, double high, bool *good)
{
    const json_t *value = json_array_get(scn_key(params, path), i);
    const double number = json_number_value(value);
    if (!json_is_number(value) || !(number >= low && number <= high))
        *good = scn_fail(path, "holds a number that is missing or out of range");
    return number;
}

bool scn_known_keys(const json_t *item, const char *place, const char *const *keys)
{
    const char *key = NULL;
    json_t *value = NULL;
    if (!json_is_object(item))
        return scn_fail(place, "holds something that isn't an object");
    json_object_foreach((json_t *)(uintptr_t)item, key, value)
    {
        const char *const *k = keys;
        while (*k && strcmp(*k, key) != 0)
            k++;
        if (!*k)
            return scn_fail(key, "no such key in an item of a list");
    }
    return true;
}

bool scn_has(const json_t *item, const char *key)
{
    const json_t *value = json_object_get(item, key);
    return value && !json_is_null(value);
}
