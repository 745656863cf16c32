/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A reading of swatches as JSON. */
#include "report/json_tree.h"
#include "tidemark/report.h"
#include "tidemark/version.h"

static json_t *swatch_json(tdm_json *json, const tdm_swatch *swatch)
{
    json_t *made = tdm_json_object(json);
    tdm_json_set(json, made, "level", tdm_json_number(json, swatch->level));
    tdm_json_set(json, made, "name", tdm_json_string(json, swatch->name));
    tdm_json_set(json, made, "lab", tdm_json_lab(json, swatch->lab));
    tdm_json_set(json, made, "lstar",
                 tdm_json_value(json, (tdm_value){.value = swatch->lab[0], .u = swatch->u}));
    tdm_json_set(json, made, "spread", tdm_json_number(json, swatch->spread));
    tdm_json_set(json, made, "rising", tdm_json_bool(swatch->rising));
    return made;
}

tdm_code tdm_swatches_json(const tdm_swatches *swatches, char **out, tdm_error *error)
{
    tdm_json json = {0};
    tdm_photo_facts photo;
    size_t count = 0;
    const tdm_warning *warnings = tdm_swatches_warnings(swatches, &count);
    json_t *list = tdm_json_array(&json);
    json_t *root = tdm_json_object(&json);
    tdm_swatches_photo(swatches, &photo);
    for (size_t i = 0; i < tdm_swatches_count(swatches); i++) {
        tdm_swatch swatch;
        tdm_swatches_at(swatches, i, &swatch);
        tdm_json_append(&json, list, swatch_json(&json, &swatch));
    }
    tdm_json_set(&json, root, "tidemark_swatches", json_integer(1));
    tdm_json_set(&json, root, "tidemark_version", tdm_json_string(&json, tdm_version()));
    tdm_json_set(&json, root, "libraries", tdm_json_libraries(&json));
    tdm_json_set(&json, root, "photo", tdm_json_photo(&json, &photo));
    tdm_json_set(&json, root, "rising", tdm_json_bool(tdm_swatches_rising(swatches)));
    tdm_json_set(&json, root, "swatches", list);
    tdm_json_set(&json, root, "warnings", tdm_json_warnings(&json, warnings, count));
    return tdm_json_text(&json, root, out, error);
}
