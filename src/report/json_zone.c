/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A zone as JSON, by the figures' table alone. */
#include <math.h>

#include "report/json_tree.h"

static json_t *number_json(tdm_json *json, const tdm_zone_reading *zone, const tdm_figure *figure)
{
    tdm_value found;
    if (!tdm_zone_value(zone, figure, &found))
        return json_null();
    return figure->kind == TDM_FIGURE_NUMBER ? tdm_json_number(json, found.value)
                                             : tdm_json_value(json, found);
}

static json_t *flag_json(const tdm_zone_reading *zone, const tdm_figure *figure)
{
    bool found = false;
    return tdm_zone_flag(zone, figure, &found) ? tdm_json_bool(found) : json_null();
}

static json_t *lab_json(tdm_json *json, const tdm_zone_reading *zone, const tdm_figure *figure)
{
    double lab[3];
    return tdm_zone_lab(zone, figure, lab) ? tdm_json_lab(json, lab) : json_null();
}

static json_t *point_json(tdm_json *json, const tdm_profile_point *point, bool with_scale)
{
    json_t *made = tdm_json_object(json);
    tdm_json_set(json, made, "mm", tdm_json_number(json, with_scale ? point->along : (double)NAN));
    if (!with_scale)
        tdm_json_set(json, made, "share", tdm_json_number(json, point->along));
    tdm_json_set(json, made, "lab", tdm_json_lab(json, point->lab));
    tdm_json_set(json, made, "u", tdm_json_number(json, point->u));
    return made;
}

static json_t *profile_json(tdm_json *json, const tdm_zone_reading *zone, const tdm_figure *figure,
                            bool with_scale)
{
    size_t count = 0;
    const tdm_profile_point *points = tdm_zone_profile(zone, figure, &count);
    if (!points || count == 0)
        return json_null();
    json_t *made = tdm_json_array(json);
    for (size_t i = 0; i < count; i++)
        tdm_json_append(json, made, point_json(json, &points[i], with_scale));
    return made;
}

static json_t *visibility_json(tdm_json *json, const tdm_zone_reading *zone, const tdm_figure *figure)
{
    size_t count = 0;
    const tdm_visibility *items = tdm_zone_visibility(zone, figure, &count);
    if (!items)
        return json_null();
    json_t *made = tdm_json_array(json);
    for (size_t i = 0; i < count; i++) {
        json_t *item = tdm_json_object(json);
        tdm_json_set(json, item, "distance_m", tdm_json_number(json, items[i].distance_m));
        tdm_json_set(json, item, "dprime", tdm_json_number(json, items[i].dprime));
        tdm_json_set(json, item, "u", tdm_json_number(json, items[i].u));
        tdm_json_append(json, made, item);
    }
    return made;
}

static json_t *places_json(tdm_json *json, const tdm_zone_reading *zone, const tdm_figure *figure)
{
    size_t count = 0;
    const tdm_place *items = tdm_zone_places(zone, figure, &count);
    if (!items)
        return json_null();
    json_t *made = tdm_json_array(json);
    for (size_t i = 0; i < count; i++) {
        json_t *item = tdm_json_object(json);
        tdm_json_set(json, item, "mm", tdm_json_number(json, items[i].mm));
        tdm_json_set(json, item, "across_mm", tdm_json_number(json, items[i].across_mm));
        tdm_json_set(json, item, "length_mm", tdm_json_number(json, items[i].length_mm));
        tdm_json_set(json, item, "width_mm", tdm_json_number(json, items[i].width_mm));
        tdm_json_append(json, made, item);
    }
    return made;
}

static json_t *figure_json(tdm_json *json, const tdm_zone_reading *zone, const tdm_figure *figure,
                           bool with_scale)
{
    switch (figure->kind) {
    case TDM_FIGURE_VALUE:
    case TDM_FIGURE_NUMBER:
        return number_json(json, zone, figure);
    case TDM_FIGURE_FLAG:
        return flag_json(zone, figure);
    case TDM_FIGURE_WORD:
        return tdm_json_string(json, tdm_zone_word(zone, figure));
    case TDM_FIGURE_LAB:
        return lab_json(json, zone, figure);
    case TDM_FIGURE_PROFILE:
        return profile_json(json, zone, figure, with_scale);
    case TDM_FIGURE_VISIBILITY:
        return visibility_json(json, zone, figure);
    case TDM_FIGURE_PLACES:
        return places_json(json, zone, figure);
    }
    return json_null();
}

/* Of every figure that has an uncertainty: its components, standard, in the figure's unit. */
static json_t *budgets_json(tdm_json *json, const tdm_zone_reading *zone)
{
    size_t count = 0;
    const tdm_figure *figures = tdm_figures(&count);
    json_t *made = tdm_json_object(json);
    for (size_t i = 0; i < count; i++) {
        tdm_budget budget;
        if (!tdm_zone_budget(zone, &figures[i], &budget))
            continue;
        json_t *parts = tdm_json_object(json);
        for (int k = 0; k < TDM_PARTS; k++)
            tdm_json_set(json, parts, tdm_part_word((tdm_part)k), tdm_json_number(json, budget.part[k]));
        tdm_json_set(json, made, figures[i].path, parts);
    }
    return made;
}

json_t *tdm_json_zone(tdm_json *json, const tdm_zone_reading *zone, bool with_scale)
{
    json_t *made = tdm_json_object(json);
    tdm_json_set(json, made, "name", tdm_json_string(json, tdm_zone_name(zone)));
    tdm_json_set(json, made, "side", tdm_json_string(json, tdm_zone_side(zone)));
    size_t count = 0;
    const tdm_figure *figures = tdm_figures(&count);
    for (size_t i = 0; i < count; i++)
        tdm_json_set_path(json, made, figures[i].path, figure_json(json, zone, &figures[i], with_scale));
    tdm_json_set(json, made, "budget", budgets_json(json, zone));
    return made;
}
