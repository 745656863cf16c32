/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A plan as JSON. */
#include "report/json_tree.h"
#include "report/words.h"
#include "tidemark/plan.h"
#include "tidemark/report.h"

static json_t *shade_json(tdm_json *json, const tdm_root_shade *shade)
{
    json_t *made = tdm_json_object(json);
    tdm_json_set_numbers(json, made,
                         (const tdm_json_named[]){{"from_mm", shade->from_mm},
                                                  {"feather_from_mm", shade->feather_from_mm},
                                                  {"to_mm", shade->to_mm},
                                                  {"feather_to_mm", shade->feather_to_mm},
                                                  {"feather_mm", shade->feather_mm},
                                                  {"way", shade->way},
                                                  {NULL, 0}});
    tdm_json_set(json, made, "lab", tdm_json_lab(json, shade->lab));
    tdm_json_set(json, made, "level", tdm_json_value(json, shade->level));
    tdm_json_set(json, made, "tone", tdm_json_string(json, shade->tone));
    return made;
}

static json_t *after_json(tdm_json *json, const tdm_simulation *after)
{
    json_t *made = tdm_json_object(json);
    tdm_json_set(json, made, "shape", tdm_json_string(json, after->shape));
    tdm_json_set(json, made, "centre_mm", tdm_json_value(json, after->centre_mm));
    tdm_json_set(json, made, "width_mm", tdm_json_value(json, after->width_mm));
    tdm_json_set(json, made, "dprime", tdm_json_value(json, after->dprime));
    tdm_json_set(json, made, "grade", tdm_json_string(json, after->grade));
    return made;
}

static json_t *light_json(tdm_json *json, const tdm_light_hair *light)
{
    json_t *made = tdm_json_object(json);
    tdm_json_set(json, made, "target_level", tdm_json_number(json, light->target_level));
    tdm_json_set(json, made, "share", tdm_json_value(json, light->share));
    tdm_json_set_numbers(json, made,
                         (const tdm_json_named[]){{"root_share", light->root_share},
                                                  {"mid_share", light->mid_share},
                                                  {"ends_share", light->ends_share},
                                                  {"from_mm", light->from_mm},
                                                  {"to_mm", light->to_mm},
                                                  {NULL, 0}});
    return made;
}

static json_t *zone_json(tdm_json *json, const tdm_zone_plan *zone)
{
    json_t *made = tdm_json_object(json);
    tdm_json_set(json, made, "name", tdm_json_string(json, zone->name));
    tdm_json_set(json, made, "weight", tdm_json_number(json, zone->weight));
    tdm_json_set(json, made, "order", zone->order ? json_integer(zone->order) : json_null());
    tdm_json_set(json, made, "need", tdm_json_string(json, zone->need));
    tdm_json_set(json, made, "why", tdm_json_string(json, zone->why));
    tdm_json_set(json, made, "blend", tdm_json_string(json, zone->blend));
    tdm_json_set(json, made, "leave", tdm_json_string(json, zone->leave));
    tdm_json_set(json, made, "dprime", tdm_json_number(json, zone->dprime));
    tdm_json_set(json, made, "enough", zone->planned ? tdm_json_bool(zone->enough) : json_null());
    tdm_json_set(json, made, "shade", zone->planned ? shade_json(json, &zone->shade) : json_null());
    tdm_json_set(json, made, "after", zone->planned ? after_json(json, &zone->after) : json_null());
    tdm_json_set(json, made, "light", light_json(json, &zone->light));
    return made;
}

tdm_code tdm_plan_json(const tdm_plan *plan, char **out, tdm_error *error)
{
    tdm_json json = {0};
    json_t *zones = tdm_json_array(&json);
    for (size_t i = 0; i < tdm_plan_zone_count(plan); i++)
        tdm_json_append(&json, zones, zone_json(&json, tdm_plan_zone(plan, i)));
    json_t *root = tdm_json_object(&json);
    tdm_json_set(&json, root, "tidemark_plan", json_integer(1));
    tdm_json_set_numbers(&json, root,
                         (const tdm_json_named[]){{"distance_m", TDM_PLAN_METRES},
                                                  {"visible_from_dprime", TDM_PLAN_VISIBLE},
                                                  {NULL, 0}});
    tdm_json_set(&json, root, "summary", tdm_json_string(&json, tdm_plan_summary(plan)));
    tdm_json_set(&json, root, "zones", zones);
    tdm_json_set(&json, root, "reading", tdm_json_reading(&json, tdm_plan_reading(plan)));
    tdm_json_set(&json, root, "caution", tdm_json_string(&json, tdm_caution));
    return tdm_json_text(&json, root, out, error);
}
