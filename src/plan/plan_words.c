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
    tdm_text_format(text, " is %s at 1.2 m", tdm_line_grade(zone->dprime));
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

static void add_impossible(tdm_text *text, const tdm_planned_zone *zone)
{
    if (!zone->has_hair)
        tdm_text_add(text, "The photograph can't carry a plan here; the warnings say why.");
    else if (!zone->hair.strip.scaled)
        tdm_text_add(text,
                     "Without a scale nothing is known of distances: mark a ruler or the target's width.");
    else
        tdm_text_add(text, "Too little of the hair beside the line can be used to plan on it.");
}

/* What in the reading makes the answer less sure. */
static void add_doubts(tdm_text *text, const struct tdm_zone_reading *reading)
{
    if (isfinite(reading->gradient.light_lstar)) {
        tdm_text_add(text, " Part of the change is light, not colour (L* ");
        tdm_text_number(text, fabs(reading->gradient.light_lstar), 1, "?");
        tdm_text_add(text, "): in even light it may look otherwise.");
    }
    if (reading->gradient.confidence && strcmp(reading->gradient.confidence, "poor") == 0)
        tdm_text_add(text,
                     " The fall of colour fits its shape poorly, so that place and kind of the change are "
                     "uncertain.");
    if (reading->gradient.bound)
        tdm_text_add(text, " The change runs off the zone: it is wider than what is seen of it.");
    if (reading->grey.share.value > reading->grey.share.u) { /* common practice, no source */
        tdm_text_add(text, " About ");
        tdm_text_number(text, 100 * reading->grey.share.value, 0, "?");
        tdm_text_add(text, " % of the hair at the root is grey or white, which a shade covers less.");
    }
}

static void why(tdm_text *text, const struct tdm_zone_reading *reading, const tdm_planned_zone *zone)
{
    const char *need = zone->about.need;
    if (strcmp(need, TDM_PLAN_IMPOSSIBLE) == 0) {
        add_impossible(text, zone);
        return;
    }
    if (strcmp(need, "not needed") == 0) {
        add_no_line(text, reading);
    } else {
        add_line(text, reading, &zone->about);
        if (strcmp(need, "not planned") == 0)
            add_unplanned(text, reading);
        else if (strcmp(need, "optional") == 0)
            tdm_text_add(text, ": a trained eye sees it, others don't, so that it can be left as it is.");
        else
            tdm_text_add(text, ".");
    }
    add_doubts(text, reading);
}

/* Whether the shade shows at all on the root: it doesn't on hair that is darker. */
static bool over_root(const struct tdm_zone_reading *reading, const tdm_root_shade *shade)
{
    return !(shade->level.value >= reading->root.level.value + 0.05);
}

static void add_run(tdm_text *text, const struct tdm_zone_reading *reading, const tdm_root_shade *shade)
{
    const double line = reading->gradient.centre_mm.value;
    const bool from_line = !over_root(reading, shade) && isfinite(line);
    const double start = from_line ? line : shade->from_mm;
    if (from_line) {
        tdm_text_add(text, " over the lighter hair from the line at ");
        add_mm(text, line);
        tdm_text_add(text, " down");
    } else {
        tdm_text_add(text, " from the root on");
    }
    if (shade->feather_from_mm > start + 0.5) {
        tdm_text_add(text, ", nearly full to ");
        add_mm(text, shade->feather_from_mm);
        tdm_text_add(text, ", then feathered and almost out by ");
    } else {
        tdm_text_add(text, ", feathered all the way and almost out by ");
    }
    add_mm(text, shade->feather_to_mm);
    tdm_text_add(text, " (half of it left at ");
    add_mm(text, shade->to_mm);
    tdm_text_add(text, ").");
    if (from_line)
        tdm_text_add(text, " The darker root stays as it is.");
}

static void add_after(tdm_text *text, const tdm_zone_plan *zone)
{
    tdm_text_add(text, " Simulated, ");
    if (isfinite(zone->after.width_mm.value)) {
        tdm_text_add(text, "the change of colour is then ");
        add_mm(text, zone->after.width_mm.value);
        tdm_text_add(text, " wide around ");
        add_mm(text, zone->after.centre_mm.value);
        tdm_text_format(text, ", and as a line %s at 1.2 m instead of %s.",
                        strcmp(zone->after.grade, "none") == 0 ? "not seen" : zone->after.grade,
                        tdm_line_grade(zone->dprime));
    } else {
        tdm_text_format(text, "the colour then runs without a line%s.",
                        zone->enough ? "" : ", but so steeply that it may be seen as one");
    }
}

/* How the shade is brought in: whether it is enough, and if not, whether for want of hair. */
static void add_verdict(tdm_text *text, const tdm_planned_zone *zone)
{
    const tdm_zone_plan *about = &zone->about;
    if (about->enough)
        tdm_text_add(text, "A root shade of ");
    else if (about->after.dprime.value >= TDM_PLAN_VISIBLE)
        tdm_text_add(text, zone->longest
                               ? "No blend on this length is sure to take the line out of sight; the "
                                 "best is a root shade of "
                               : "None of the blends that were tried is sure to take the line out of "
                                 "sight; the best is a root shade of ");
    else
        tdm_text_add(text,
                     zone->longest
                         ? "The longest blend that this hair has room for only just takes the line out "
                           "of sight: a root shade of "
                         : "The best blend found only just takes the line out of sight: a root shade of ");
}

static void blend(tdm_text *text, const struct tdm_zone_reading *reading, const tdm_level_scale *scale,
                  const tdm_planned_zone *zone)
{
    if (!zone->about.planned)
        return;
    add_verdict(text, zone);
    add_level(text, scale, zone->about.shade.level.value);
    tdm_text_format(text, ", %s,", zone->about.shade.tone);
    add_run(text, reading, &zone->about.shade);
    add_after(text, &zone->about);
}

static void add_share(tdm_text *text, const tdm_level_scale *scale, const tdm_light_hair *light)
{
    tdm_text_number(text, 100 * light->share.value, 0, "?");
    tdm_text_add(text, " % of this hair");
    if (isfinite(light->share.u)) {
        tdm_text_add(text, " (give or take ");
        tdm_text_number(text, 100 * light->share.u, 0, "?");
        tdm_text_add(text, ")");
    }
    tdm_text_add(text, " is at ");
    add_level(text, scale, light->target_level);
    tdm_text_add(text, " or lighter");
}

/* A target under the root's own level says nothing of hair that has been lightened. */
static void leave(tdm_text *text, const struct tdm_zone_reading *reading, const tdm_level_scale *scale,
                  const tdm_planned_zone *zone)
{
    const tdm_light_hair *light = &zone->about.light;
    if (zone->has_hair && !isfinite(light->target_level))
        tdm_text_add(text, "Which hair is light enough can't be told: no target level is known; give "
                           "--target-level.");
    if (!isfinite(light->share.value))
        return;
    add_share(text, scale, light);
    const bool some = light->share.value >= 0.01;
    if (isfinite(light->from_mm) && some) {
        tdm_text_add(text, ", nearly all of it between ");
        add_mm(text, light->from_mm);
        tdm_text_add(text, " and ");
        add_mm(text, light->to_mm);
    }
    tdm_text_add(text, some && !(light->target_level < reading->root.level.value)
                           ? ": don't lighten it. Hair that is already light isn't lightened again."
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
        blend(&text, reading, scale, zone);
        code = keep(&text, &zone->about.blend, error);
    }
    if (code == TDM_OK) {
        text = (tdm_text){0};
        leave(&text, reading, scale, zone);
        code = keep(&text, &zone->about.leave, error);
    }
    return code;
}
