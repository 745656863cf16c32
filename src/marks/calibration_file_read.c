/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Steps that reading a calibration file is made of. */
#include "base/fail.h"
#include "marks/calibration_file_parts.h"

tdm_code tdm_calibration_object(const tdm_marks_reader *reader, json_t *object, const char *where,
                                const char *const *list)
{
    if (!json_is_object(object))
        return tdm_key_fail(reader, where, object ? "must be an object" : "is missing");
    return tdm_warn_unknown_once(reader, object, where, list, "calibration-unknown-key", "calibration");
}

tdm_code tdm_calibration_list(const tdm_marks_reader *reader, const json_t *value, const char *key, int count,
                              double *out)
{
    if (!json_is_array(value) || json_array_size(value) != (size_t)count)
        return tdm_fail(reader->error, TDM_ERR_FORMAT, reader->file, key, "must be a list of %d numbers",
                        count);
    for (int i = 0; i < count; i++) {
        char place[TDM_KEY_PATH];
        tdm_key_item(place, key, (size_t)i);
        const tdm_code code = tdm_read_number(reader, json_array_get(value, (size_t)i), place, &out[i]);
        if (code != TDM_OK)
            return code;
    }
    return TDM_OK;
}

tdm_code tdm_calibration_child(const tdm_marks_reader *reader, const json_t *object, const char *parent,
                               const char *key, int count, double *out)
{
    char place[TDM_KEY_PATH];
    tdm_key_child(place, parent, key);
    return tdm_calibration_list(reader, json_object_get(object, key), place, count, out);
}
