/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A comparison as JSON. */
#include <math.h>

#include "report/json_tree.h"
#include "report/words.h"
#include "tidemark/report.h"

/* {"before": …, "after": …} of what has no difference. */
static json_t *pair_json(tdm_json *json, json_t *before, json_t *after)
{
    json_t *made = tdm_json_object(json);
    tdm_json_set(json, made, "before", before);
    tdm_json_set(json, made, "after", after);
    return made;
}

static json_t *flags_json(tdm_json *json, const tdm_zone_change *change, const tdm_figure *figure)
{
    bool before = false;
    bool after = false;
    if (!tdm_zone_flag(change->before, figure, &before) || !tdm_zone_flag(change->after, figure, &after))
        return json_null();
    return pair_json(json, tdm_json_bool(before), tdm_json_bool(after));
}

static json_t *difference_json(tdm_json *json, const tdm_zone_change *change, const tdm_figure *figure)
{
    tdm_value found;
    if (!tdm_change(change, figure, &found))
        return json_null();
    if (figure->kind != TDM_FIGURE_LAB)
        return tdm_json_value(json, found);
    json_t *made = tdm_json_object(json);
    tdm_json_set(json, made, "de00", tdm_json_number(json, found.value));
    return made;
}

static void set_figure(tdm_json *json, json_t *object, const tdm_zone_change *change,
                       const tdm_figure *figure)
{
    json_t *made = NULL;
    switch (figure->kind) {
    case TDM_FIGURE_VALUE:
    case TDM_FIGURE_NUMBER:
    case TDM_FIGURE_LAB:
        made = difference_json(json, change, figure);
        break;
    case TDM_FIGURE_FLAG:
        made = flags_json(json, change, figure);
        break;
    case TDM_FIGURE_WORD:
        made = pair_json(json, tdm_json_string(json, tdm_zone_word(change->before, figure)),
                         tdm_json_string(json, tdm_zone_word(change->after, figure)));
        break;
    case TDM_FIGURE_PROFILE:
    case TDM_FIGURE_VISIBILITY:
    case TDM_FIGURE_PLACES:
        return; /* stands in both readings; a difference of lists would say little */
    }
    tdm_json_set_path(json, object, figure->path, made);
}

static json_t *value_json(tdm_json *json, tdm_value value)
{
    return isfinite(value.value) ? tdm_json_value(json, value) : json_null();
}

static json_t *growth_json(tdm_json *json, const tdm_growth *growth)
{
    json_t *made = tdm_json_object(json);
    tdm_json_set(json, made, "state", tdm_json_string(json, growth->state));
    tdm_json_set(json, made, "text", tdm_json_string(json, growth->text));
    tdm_json_set(json, made, "days", tdm_json_number(json, growth->days));
    tdm_json_set(json, made, "mm", value_json(json, growth->mm));
    tdm_json_set(json, made, "mm_per_month", value_json(json, growth->mm_per_month));
    tdm_json_set(json, made, "pace", tdm_json_string(json, growth->pace));
    return made;
}

static json_t *change_json(tdm_json *json, const tdm_zone_change *change)
{
    json_t *made = tdm_json_object(json);
    tdm_json_set(json, made, "name", tdm_json_string(json, tdm_zone_name(change->before)));
    tdm_json_set(json, made, "side", tdm_json_string(json, tdm_zone_side(change->before)));
    tdm_json_set(json, made, "meaning", tdm_json_string(json, change->meaning));
    tdm_json_set(json, made, "growth", growth_json(json, &change->growth));
    size_t count = 0;
    const tdm_figure *figures = tdm_figures(&count);
    for (size_t i = 0; i < count; i++)
        set_figure(json, made, change, &figures[i]);
    return made;
}

static json_t *changes_json(tdm_json *json, const tdm_comparison *comparison)
{
    json_t *made = tdm_json_array(json);
    for (size_t i = 0; i < tdm_comparison_zone_count(comparison); i++)
        tdm_json_append(json, made, change_json(json, tdm_comparison_zone(comparison, i)));
    return made;
}

tdm_code tdm_comparison_json(const tdm_comparison *comparison, char **out, tdm_error *error)
{
    size_t count = 0;
    const tdm_warning *warnings = tdm_comparison_warnings(comparison, &count);
    tdm_json json = {0};
    json_t *root = tdm_json_object(&json);
    tdm_json_set(&json, root, "tidemark_comparison", json_integer(1));
    tdm_json_set(&json, root, "before", tdm_json_reading(&json, tdm_comparison_before(comparison)));
    tdm_json_set(&json, root, "after", tdm_json_reading(&json, tdm_comparison_after(comparison)));
    tdm_json_set(&json, root, "changes", changes_json(&json, comparison));
    tdm_json_set(&json, root, "head", change_json(&json, tdm_comparison_head(comparison)));
    tdm_json_set(&json, root, "warnings", tdm_json_warnings(&json, warnings, count));
    tdm_json_set(&json, root, "caution", tdm_json_string(&json, tdm_caution));
    return tdm_json_text(&json, root, out, error);
}
