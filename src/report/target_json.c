/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A target's reading as JSON. */
#include "report/json_tree.h"
#include "tidemark/report.h"
#include "tidemark/version.h"

static json_t *place_json(tdm_json *json, const tdm_target_facts *facts)
{
    json_t *corners = tdm_json_array(json);
    for (size_t i = 0; i < 4; i++) {
        json_t *point = tdm_json_array(json);
        tdm_json_append(json, point, tdm_json_number(json, facts->corners[2 * i]));
        tdm_json_append(json, point, tdm_json_number(json, facts->corners[2 * i + 1]));
        tdm_json_append(json, corners, point);
    }
    json_t *made = tdm_json_object(json);
    tdm_json_set(json, made, "how", tdm_json_string(json, facts->how));
    tdm_json_set(json, made, "confidence", tdm_json_number(json, facts->confidence));
    tdm_json_set(json, made, "way", tdm_json_string(json, facts->way));
    tdm_json_set(json, made, "turn_deg", tdm_json_number(json, facts->turn_deg));
    tdm_json_set(json, made, "mirrored", tdm_json_bool(facts->mirrored));
    tdm_json_set(json, made, "corners", corners);
    return made;
}

static json_t *correction_json(tdm_json *json, const tdm_target_facts *facts)
{
    json_t *errors = tdm_json_object(json);
    tdm_json_set_numbers(json, errors,
                         (const tdm_json_named[]){{"before_mean", facts->before_mean},
                                                  {"before_max", facts->before_max},
                                                  {"mean", facts->residual_mean},
                                                  {"max", facts->residual_max},
                                                  {"left_out_mean", facts->left_out_mean},
                                                  {"hair_mean", facts->hair_mean},
                                                  {NULL, 0}});
    json_t *made = tdm_json_object(json);
    tdm_json_set(json, made, "root_polynomial", tdm_json_bool(facts->root_polynomial));
    tdm_json_set(json, made, "reference", tdm_json_string(json, facts->reference));
    tdm_json_set(json, made, "residual_de00", errors);
    tdm_json_set(json, made, "u_lstar", tdm_json_number(json, facts->u_lstar));
    return made;
}

static json_t *patch_json(tdm_json *json, const tdm_target_patch *patch)
{
    json_t *made = tdm_json_object(json);
    tdm_json_set(json, made, "name", tdm_json_string(json, patch->name));
    tdm_json_set(json, made, "state", tdm_json_string(json, patch->state));
    tdm_json_set(json, made, "reference_lab", tdm_json_lab(json, patch->reference_lab));
    tdm_json_set(json, made, "before_lab", tdm_json_lab(json, patch->before_lab));
    tdm_json_set(json, made, "after_lab", tdm_json_lab(json, patch->after_lab));
    tdm_json_set_numbers(json, made,
                         (const tdm_json_named[]){{"de00_before", patch->de00_before},
                                                  {"de00_after", patch->de00_after},
                                                  {"de00_left_out", patch->left_out},
                                                  {NULL, 0}});
    return made;
}

tdm_code tdm_target_json(const tdm_target_reading *target, char **out, tdm_error *error)
{
    tdm_json json = {0};
    tdm_photo_facts photo;
    tdm_target_facts facts;
    size_t count = 0;
    const tdm_warning *warnings = tdm_target_warnings(target, &count);
    json_t *patches = tdm_json_array(&json);
    json_t *root = tdm_json_object(&json);
    tdm_target_photo(target, &photo);
    tdm_target_about(target, &facts);
    for (size_t i = 0; i < TDM_TARGET_PATCHES; i++) {
        tdm_target_patch patch;
        tdm_target_patch_at(target, i, &patch);
        tdm_json_append(&json, patches, patch_json(&json, &patch));
    }
    tdm_json_set(&json, root, "tidemark_target", json_integer(1));
    tdm_json_set(&json, root, "tidemark_version", tdm_json_string(&json, tdm_version()));
    tdm_json_set(&json, root, "libraries", tdm_json_libraries(&json));
    tdm_json_set(&json, root, "photo", tdm_json_photo(&json, &photo));
    tdm_json_set(&json, root, "target", place_json(&json, &facts));
    tdm_json_set(&json, root, "correction", correction_json(&json, &facts));
    tdm_json_set(&json, root, "patches", patches);
    tdm_json_set(&json, root, "warnings", tdm_json_warnings(&json, warnings, count));
    return tdm_json_text(&json, root, out, error);
}
