/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What every kind of JSON says first: the photograph, and by which libraries it was read. */
#include "report/json_tree.h"
#include "report/words.h"
#include "tidemark/version.h"

json_t *tdm_json_libraries(tdm_json *json)
{
    json_t *made = tdm_json_object(json);
    for (size_t i = 0; tdm_libraries[i]; i++)
        tdm_json_set(json, made, tdm_libraries[i],
                     tdm_json_string(json, tdm_library_version(tdm_libraries[i])));
    return made;
}

json_t *tdm_json_photo(tdm_json *json, const tdm_photo_facts *facts)
{
    json_t *size = tdm_json_array(json);
    tdm_json_append(json, size, json_integer((json_int_t)facts->width));
    tdm_json_append(json, size, json_integer((json_int_t)facts->height));

    json_t *made = tdm_json_object(json);
    tdm_json_set(json, made, "file", tdm_json_string(json, facts->file));
    tdm_json_set(json, made, "sha256", tdm_json_string(json, facts->sha256));
    tdm_json_set(json, made, "size", size);
    tdm_json_set(json, made, "profile", tdm_json_string(json, facts->profile));
    tdm_json_set(json, made, "profile_source", tdm_json_string(json, facts->profile_source));
    tdm_json_set(json, made, "taken", tdm_json_string(json, facts->taken));
    tdm_json_set(json, made, "taken_source", tdm_json_string(json, facts->taken_source));
    return made;
}
