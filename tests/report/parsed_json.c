/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/parsed_json.h"

#include <math.h>
#include <string.h>

#include "suite.h"

const double rounding = 1e-5;

json_t *parsed_json(char *text)
{
    json_error_t error;
    ck_assert_ptr_null(strstr(text, "nan"));
    ck_assert_ptr_null(strstr(text, "inf"));
    json_t *root = json_loads(text, JSON_REJECT_DUPLICATES, &error);
    ck_assert_msg(root != NULL, "%s", error.text);
    ck_assert_int_eq(text[strlen(text) - 1], '\n');
    tdm_free(text);
    return root;
}

json_t *reading_json(const tdm_reading *reading)
{
    char *text = NULL;
    tdm_error error = {0};
    ck_assert_int_eq(tdm_reading_json(reading, &text, &error), TDM_OK);
    return parsed_json(text);
}

json_t *at(json_t *object, const char *path)
{
    char name[64];
    for (;;) {
        const size_t length = strcspn(path, ".");
        ck_assert_uint_lt(length, sizeof name);
        memcpy(name, path, length);
        name[length] = '\0';
        object = json_object_get(object, name);
        ck_assert_msg(object != NULL, "no %s", name);
        if (!path[length])
            return object;
        path += length + 1;
    }
}

void check_number(json_t *json, double value)
{
    if (!isfinite(value)) {
        ck_assert(json_is_null(json));
        return;
    }
    ck_assert(json_is_real(json));
    ck_assert_double_eq_tol(json_real_value(json), value, rounding * fmax(1, fabs(value)));
}
