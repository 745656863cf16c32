/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "marks/calibration_file.h"

#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "base/file.h"
#include "marks/calibration_file_parts.h"

static const char *const known[] = {
    "tidemark_calibration", "fitted_on", "reference", "method", "to_rgb",  "curves", "gain", "from_rgb",
    "from_roots",           "light",     "drift",     "de00",   "u_lstar", "u_ab",   NULL};

static bool hexadecimal(const char *text)
{
    return strlen(text) == 64 && strspn(text, "0123456789abcdef") == 64;
}

static tdm_code read_origin(const tdm_marks_reader *reader, const json_t *root, tdm_calibration_origin *out)
{
    static const char *const keys[] = {"photo", "sha256", "taken", "profile", NULL};
    json_t *object = json_object_get(root, "fitted_on");
    tdm_code code = tdm_calibration_object(reader, object, "fitted_on", keys);
    if (code == TDM_OK)
        code = tdm_read_words(reader, json_object_get(object, "photo"), "fitted_on.photo", out->photo,
                              sizeof out->photo);
    if (code == TDM_OK && (out->photo[0] == '\0' || strchr(out->photo, '/')))
        return tdm_key_fail(reader, "fitted_on.photo", "must be a file's name without its folder");
    if (code == TDM_OK)
        code = tdm_read_words(reader, json_object_get(object, "sha256"), "fitted_on.sha256", out->sha256,
                              sizeof out->sha256);
    if (code == TDM_OK && !hexadecimal(out->sha256))
        return tdm_key_fail(reader, "fitted_on.sha256", "must be 64 digits of 0 to 9 and a to f");
    if (code == TDM_OK)
        code = tdm_read_words(reader, json_object_get(object, "taken"), "fitted_on.taken", out->taken,
                              sizeof out->taken);
    if (code == TDM_OK)
        code = tdm_read_words(reader, json_object_get(object, "profile"), "fitted_on.profile", out->profile,
                              sizeof out->profile);
    if (code == TDM_OK)
        code = tdm_read_words(reader, json_object_get(root, "reference"), "reference", out->reference,
                              sizeof out->reference);
    return code;
}

static tdm_code read_method(const tdm_marks_reader *reader, const json_t *root, tdm_calibration *out)
{
    const char *word = json_string_value(json_object_get(root, "method"));
    for (int i = 0; word && i < TDM_CALIBRATION_METHODS; i++) {
        if (strcmp(word, tdm_calibration_methods[i]) == 0) {
            out->method = (tdm_calibration_method)i;
            return TDM_OK;
        }
    }
    return tdm_key_fail(reader, "method", "must be \"icc\", \"grey\" or \"target\"");
}

static tdm_code read_version(const tdm_marks_reader *reader, const json_t *root)
{
    const json_t *value = json_object_get(root, "tidemark_calibration");
    if (!json_is_integer(value))
        return tdm_key_fail(reader, "tidemark_calibration", "must be 1; is this a calibration file?");
    if (json_integer_value(value) != 1)
        return tdm_key_fail(reader, "tidemark_calibration",
                            "is of a version that this program doesn't know; use a newer Tidemark");
    return TDM_OK;
}

static tdm_code read_all(const tdm_marks_reader *reader, json_t *root, tdm_calibration *out,
                         tdm_calibration_origin *origin)
{
    if (!json_is_object(root))
        return tdm_fail(reader->error, TDM_ERR_FORMAT, reader->file, NULL,
                        "isn't a calibration file: it must be an object");
    tdm_code code = read_version(reader, root);
    if (code == TDM_OK)
        code = tdm_calibration_object(reader, root, "", known);
    if (code == TDM_OK)
        code = read_origin(reader, root, origin);
    if (code == TDM_OK)
        code = read_method(reader, root, out);
    if (code == TDM_OK)
        code = tdm_calibration_numbers(reader, root, out);
    return code == TDM_OK ? tdm_calibration_check(reader, out) : code;
}

tdm_code tdm_calibration_parse(const char *data, size_t size, const char *file, const tdm_limits *limits,
                               tdm_warnings *warnings, tdm_calibration *out, tdm_calibration_origin *origin,
                               tdm_error *error)
{
    const tdm_marks_reader reader = {.file = file, .limits = limits, .warnings = warnings, .error = error};
    json_t *root = NULL;
    tdm_calibration read = {0};
    tdm_calibration_origin from = {0};
    tdm_code code = tdm_read_json(&reader, data, size, "a calibration file", &root);
    if (code == TDM_OK)
        code = read_all(&reader, root, &read, &from);
    if (code == TDM_OK) {
        *out = read;
        *origin = from;
    }
    json_decref(root);
    return code;
}

tdm_code tdm_calibration_load(const char *path, const tdm_limits *limits, tdm_warnings *warnings,
                              tdm_calibration *out, tdm_calibration_origin *origin, tdm_error *error)
{
    tdm_bytes bytes = {0};
    tdm_code code = tdm_file_read(path, limits->marks_bytes, &bytes, error);
    if (code == TDM_OK)
        code = tdm_calibration_parse((const char *)bytes.data, bytes.size, path, limits, warnings, out,
                                     origin, error);
    free(bytes.data);
    return code;
}
