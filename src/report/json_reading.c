/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One photograph's reading as JSON. */
#include <math.h>

#include "report/json_tree.h"
#include "report/words.h"
#include "tidemark/report.h"
#include "tidemark/version.h"

static json_t *calibration_json(tdm_json *json, const tdm_calibration_facts *facts)
{
    json_t *residual = tdm_json_object(json);
    tdm_json_set_numbers(json, residual,
                         (const tdm_json_named[]){{"before_mean", facts->before_mean},
                                                  {"mean", facts->residual_mean},
                                                  {"max", facts->residual_max},
                                                  {"left_out_mean", facts->left_out_mean},
                                                  {NULL, 0}});
    json_t *made = tdm_json_object(json);
    tdm_json_set(json, made, "method", tdm_json_string(json, facts->method));
    tdm_json_set(json, made, "from", tdm_json_string(json, facts->from));
    tdm_json_set(json, made, "mm_per_px", tdm_json_number(json, facts->mm_per_px));
    tdm_json_set(json, made, "scale", tdm_json_string(json, facts->scale));
    tdm_json_set(json, made, "residual_de00", residual);
    tdm_json_set(json, made, "u_lstar", tdm_json_number(json, facts->u_lstar));
    return made;
}

json_t *tdm_json_warnings(tdm_json *json, const tdm_warning *warnings, size_t count)
{
    json_t *made = tdm_json_array(json);
    for (size_t i = 0; i < count; i++) {
        json_t *item = tdm_json_object(json);
        tdm_json_set(json, item, "code", tdm_json_string(json, warnings[i].code));
        tdm_json_set(json, item, "text", tdm_json_string(json, warnings[i].text));
        tdm_json_set(json, item, "zone", tdm_json_string(json, warnings[i].zone));
        tdm_json_append(json, made, item);
    }
    return made;
}

static json_t *quality_figures_json(tdm_json *json, const tdm_reading *reading)
{
    size_t count = 0;
    const tdm_quality_figure *figures = tdm_reading_quality(reading, &count);
    json_t *made = tdm_json_array(json);
    for (size_t i = 0; i < count; i++) {
        json_t *item = tdm_json_object(json);
        tdm_json_set(json, item, "code", tdm_json_string(json, figures[i].code));
        tdm_json_set(json, item, "label", tdm_json_string(json, figures[i].label));
        tdm_json_set(json, item, "unit", tdm_json_string(json, figures[i].unit));
        tdm_json_set(json, item, "zone", tdm_json_string(json, figures[i].zone));
        tdm_json_set(json, item, "value", tdm_json_number(json, figures[i].value));
        tdm_json_set(json, item, "threshold", tdm_json_number(json, figures[i].threshold));
        tdm_json_set(json, item, "unusable_beyond", tdm_json_number(json, figures[i].unusable));
        tdm_json_set(json, item, "below", tdm_json_bool(figures[i].below));
        tdm_json_set(json, item, "good", tdm_json_bool(figures[i].good));
        tdm_json_set(json, item, "advice", tdm_json_string(json, figures[i].advice));
        tdm_json_append(json, made, item);
    }
    return made;
}

static json_t *quality_json(tdm_json *json, const tdm_reading *reading)
{
    size_t count = 0;
    const tdm_warning *warnings = tdm_reading_warnings(reading, &count);
    json_t *made = tdm_json_object(json);
    tdm_json_set(json, made, "usable", tdm_json_bool(tdm_reading_usable(reading)));
    tdm_json_set(json, made, "figures", quality_figures_json(json, reading));
    tdm_json_set(json, made, "warnings", tdm_json_warnings(json, warnings, count));
    return made;
}

static json_t *zones_json(tdm_json *json, const tdm_reading *reading, bool with_scale)
{
    json_t *made = tdm_json_array(json);
    for (size_t i = 0; i < tdm_reading_zone_count(reading); i++)
        tdm_json_append(json, made, tdm_json_zone(json, tdm_reading_zone(reading, i), with_scale));
    return made;
}

json_t *tdm_json_reading(tdm_json *json, const tdm_reading *reading)
{
    tdm_photo_facts photo;
    tdm_calibration_facts calibration;
    tdm_reading_photo(reading, &photo);
    tdm_reading_calibration(reading, &calibration);
    const bool with_scale = isfinite(calibration.mm_per_px);

    json_t *made = tdm_json_object(json);
    tdm_json_set(json, made, "tidemark_reading", json_integer(1));
    tdm_json_set(json, made, "tidemark_version", tdm_json_string(json, tdm_version()));
    tdm_json_set(json, made, "libraries", tdm_json_libraries(json));
    tdm_json_set(json, made, "photo", tdm_json_photo(json, &photo));
    tdm_json_set(json, made, "coloured_on", tdm_json_string(json, photo.coloured_on));
    tdm_json_set(json, made, "calibration", calibration_json(json, &calibration));
    tdm_json_set(json, made, "quality", quality_json(json, reading));
    tdm_json_set(json, made, "level_scale", tdm_json_string(json, tdm_reading_level_scale(reading)));
    tdm_json_set(json, made, "zones", zones_json(json, reading, with_scale));
    tdm_json_set(json, made, "head", tdm_json_zone(json, tdm_reading_head(reading), with_scale));
    return made;
}

tdm_code tdm_reading_json(const tdm_reading *reading, char **out, tdm_error *error)
{
    tdm_json json = {0};
    json_t *root = tdm_json_reading(&json, reading);
    tdm_json_set(&json, root, "caution", tdm_json_string(&json, tdm_caution));
    return tdm_json_text(&json, root, out, error);
}
