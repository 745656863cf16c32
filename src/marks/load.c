/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "base/file.h"
#include "marks/json_walk.h"

tdm_code tdm_marks_load(const char *path, uint32_t photo_width, uint32_t photo_height,
                        const tdm_limits *limits, tdm_warnings *warnings, tdm_marks *out, tdm_error *error)
{
    tdm_bytes bytes = {0};
    tdm_error why = {0};
    tdm_code code = tdm_file_read(path, limits->marks_bytes, &bytes, &why);
    if (code != TDM_OK)
        return tdm_fail(error, code, path, why.place,
                        "%s (the photograph's marks; --marks names another file)", why.text);
    code = tdm_marks_parse((const char *)bytes.data, bytes.size, path, photo_width, photo_height, limits,
                           warnings, out, error);
    free(bytes.data);
    return code;
}

tdm_code tdm_marks_text(const tdm_marks *marks, char **out, tdm_error *error)
{
    return tdm_write_json(marks->json, 12, out, error);
}

char *tdm_marks_path(const char *photo_path)
{
    static const char ending[] = ".marks.json";
    const char *name = tdm_file_name(photo_path);
    const char *dot = strrchr(name, '.');
    /* A leading dot is part of the name, not an extension. */
    const size_t stem = dot && dot != name ? (size_t)(dot - photo_path) : strlen(photo_path);
    char *path = malloc(stem + sizeof ending);
    if (!path)
        return NULL;
    memcpy(path, photo_path, stem);
    memcpy(path + stem, ending, sizeof ending);
    return path;
}
