/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A zone's plan in plain sentences. */
#include <math.h>
#include <string.h>

#include "base/fail.h"
#include "base/text.h"
#include "measure/visibility.h"
#include "plan/plan_parts.h"

static void add_mm(tdm_text *text, double value)
{
    tdm_text_number(text, value, 0, "?");
    tdm_text_add(text, " mm");
}

static void add_level(tdm_text *text, const tdm_level_scale *scale, double level)
{
    tdm_text_add(text, "level ");
    tdm_text_number(text, level, 1, "?");
    tdm_text_format(text, " (%s)", tdm_level_name(scale, level));
}

static void add_line(tdm_text *text, const struct tdm_zone_reading *reading, const tdm_zone_plan *zone)
{
    tdm_text_add(text, "The line");
    if (isfinite(reading->gradient.centre_mm.value)) {
        tdm_text_add(text, " at ");
        add_mm(text, reading->gradient.centre_mm.value);
    }
    tdm_text_format(text, " is %s at 1.2 m (d' ", tdm_line_grade(zone->dprime));
    tdm_text_number(text, zone->dprime, 1, "?");
    tdm_text_add(text, ")");
}

static void add_unplanned(tdm_text *text, const struct tdm_zone_reading *reading)
{
    const char *shape = reading->gradient.shape;
    if (shape && strcmp(shape, "band") == 0)
        tdm_text_add(text,
                     ", but it is the side of a band of another colour: a root shade would cover a part "
                     "of the band and leave the rest, so no blend is planned.");
    else
        tdm_text_add(text, ", but the root isn't darker than the lengths: a root shade only darkens, so no "
                           "blend is planned.");
}

static void add_no_line(tdm_text *text, const struct tdm_zone_reading *reading)
{
    const char *shape = reading->gradient.shape;
    if (shape && strcmp(shape, "uniform") == 0)
        tdm_text_add(text, "The colour is even from root to ends: there is no line to blend.");
    else if (shape && strcmp(shape, "ramp") == 0)
        tdm_text_add(text, "The colour changes steadily from root to ends: there is no line to blend.");
    else
        tdm_text_add(text, "The change of colour isn't seen as a line at 1.2 m: there is nothing to blend.");
}

static void why(tdm_text *text, const struct tdm_zone_reading *reading, const tdm_planned_zone *zone)
{
    const char *need = zone->about.need;
    if (strcmp(need, "can't be said") == 0) {
        tdm_text_add(text,
                     zone->has_hair && !zone->hair.strip.scaled
                         ? "Without a scale nothing is known of distances: mark a ruler or the target's "
                           "width."
                         : "The photograph can't carry a plan here; the warnings say why.");
        return;
    }
    if (strcmp(need, "not needed") == 0) {
        add_no_line(text, reading);
        return;
    }
    add_line(text, reading, &zone->about);
    if (strcmp(need, "not planned") == 0)
        add_unplanned(text, reading);
    else if (strcmp(need, "optional") == 0)
        tdm_text_add(text, ": a trained eye sees it, others don't, so that it can be left as it is.");
    else
        tdm_text_add(text, ".");
}

static void add_feather(tdm_text *text, const tdm_root_shade *shade)
{
    if (shade->feather_from_mm > shade->from_mm + 0.5) {
        tdm_text_add(text, " from the root, full down to ");
        add_mm(text, shade->feather_from_mm);
        tdm_text_add(text, ", then feathered out until ");
    } else {
        tdm_text_add(text, " that is feathered from the root on until ");
    }
    add_mm(text, shade->feather_to_mm);
    tdm_text_add(text, " (half of it left at ");
    add_mm(text, shade->to_mm);
    tdm_text_add(text, ").");
}

static void add_after(tdm_text *text, const tdm_zone_plan *zone)
{
    const bool line = isfinite(zone->after.width_mm.value);
    tdm_text_add(text, " Simulated, ");
    if (line) {
        tdm_text_add(text, "the change of colour is then ");
        add_mm(text, zone->after.width_mm.value);
        tdm_text_add(text, " wide around ");
        add_mm(text, zone->after.centre_mm.value);
        tdm_text_add(text, " and ");
    } else {
        tdm_text_add(text, "the colour then runs without a line, ");
    }
    tdm_text_format(text, "%s at 1.2 m (d' ", tdm_line_grade(zone->after.dprime.value));
    tdm_text_number(text, zone->after.dprime.value, 1, "?");
    tdm_text_add(text, " instead of ");
    tdm_text_number(text, zone->dprime, 1, "?");
    tdm_text_add(text, ").");
}

static void blend(tdm_text *text, const tdm_level_scale *scale, const tdm_zone_plan *zone)
{
    if (!zone->planned)
        return;
    if (zone->enough)
        tdm_text_add(text, "A root shade of ");
    else if (zone->after.dprime.value < TDM_PLAN_VISIBLE)
        tdm_text_add(text,
                     "The longest blend that this hair has room for only just takes the line out of sight: "
                     "a root shade of ");
    else
        tdm_text_add(text,
                     "No blend on this length takes the line out of sight; the best is a root shade of ");
    add_level(text, scale, zone->shade.level.value);
    tdm_text_format(text, ", %s,", zone->shade.tone);
    add_feather(text, &zone->shade);
    add_after(text, zone);
}

static void leave(tdm_text *text, const tdm_level_scale *scale, const tdm_light_hair *light)
{
    if (!isfinite(light->share.value))
        return;
    tdm_text_number(text, 100 * light->share.value, 0, "?");
    tdm_text_add(text, " % of this hair is at ");
    add_level(text, scale, light->target_level);
    tdm_text_add(text, " or lighter");
    if (isfinite(light->from_mm) && light->share.value >= 0.01) {
        tdm_text_add(text, ", nearly all of it between ");
        add_mm(text, light->from_mm);
        tdm_text_add(text, " and ");
        add_mm(text, light->to_mm);
    }
    tdm_text_add(text, light->share.value >= 0.01
                           ? ": leave it alone. Hair that is already light isn't lightened again."
                           : ".");
}

/* NULL where nothing was said. */
static tdm_code keep(tdm_text *text, const char **out, tdm_error *error)
{
    if (text->failed) {
        tdm_text_free(text);
        return tdm_fail_memory(error, NULL);
    }
    *out = text->data;
    return TDM_OK;
}

tdm_code tdm_plan_say(const struct tdm_zone_reading *reading, const tdm_level_scale *scale,
                      tdm_planned_zone *zone, tdm_error *error)
{
    tdm_text text = {0};
    why(&text, reading, zone);
    tdm_code code = keep(&text, &zone->about.why, error);
    if (code == TDM_OK) {
        text = (tdm_text){0};
        blend(&text, scale, &zone->about);
        code = keep(&text, &zone->about.blend, error);
    }
    if (code == TDM_OK) {
        text = (tdm_text){0};
        leave(&text, scale, &zone->about.light);
        code = keep(&text, &zone->about.leave, error);
    }
    return code;
}
