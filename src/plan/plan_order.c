/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which zone first: the one whose line is seen most, where it is looked at most. */
#include <math.h>
#include <string.h>

#include "base/fail.h"
#include "base/text.h"
#include "plan/plan_parts.h"

static bool is(const tdm_planned_zone *zone, const char *need)
{
    return zone->about.need && strcmp(zone->about.need, need) == 0;
}

static double urgency(const tdm_planned_zone *zone)
{
    return zone->about.weight * zone->about.dprime;
}

static void set_order(tdm_plan *plan)
{
    for (size_t i = 0; i < plan->zone_count; i++) {
        tdm_planned_zone *zone = &plan->zones[i];
        unsigned before = 0;
        if (!is(zone, "needed"))
            continue;
        for (size_t k = 0; k < plan->zone_count; k++) {
            const double other = urgency(&plan->zones[k]), own = urgency(zone);
            before += is(&plan->zones[k], "needed") && (other > own || (!(other < own) && k < i));
        }
        zone->about.order = before + 1;
    }
}

static const tdm_planned_zone *in_place(const tdm_plan *plan, unsigned order)
{
    for (size_t i = 0; i < plan->zone_count; i++) {
        if (plan->zones[i].about.order == order)
            return &plan->zones[i];
    }
    return NULL;
}

static void add_order(tdm_text *text, const tdm_plan *plan)
{
    const tdm_planned_zone *zone = in_place(plan, 1);
    if (!zone)
        return;
    tdm_text_format(text, "Begin with %s", zone->about.name);
    for (unsigned order = 2; (zone = in_place(plan, order)); order++)
        tdm_text_format(text, ", then %s", zone->about.name);
    tdm_text_add(text, in_place(plan, 2) ? ": by how clearly the line shows, and how much the marks say the "
                                           "zone is looked at."
                                         : ".");
}

/* "crown and nape" */
static size_t add_names(tdm_text *text, const tdm_plan *plan, const char *need)
{
    size_t count = 0, said = 0;
    for (size_t i = 0; i < plan->zone_count; i++)
        count += is(&plan->zones[i], need);
    for (size_t i = 0; i < plan->zone_count; i++) {
        if (!is(&plan->zones[i], need))
            continue;
        tdm_text_add(text, said == 0 ? "" : said + 1 == count ? " and " : ", ");
        tdm_text_add(text, plan->zones[i].about.name);
        said++;
    }
    return count;
}

static void add_group(tdm_text *text, const tdm_plan *plan, const char *need, const char *one,
                      const char *several)
{
    tdm_text names = {0};
    const size_t count = add_names(&names, plan, need);
    if (count > 0)
        tdm_text_format(text, "%s%s %s.", text->size ? " " : "", names.data ? names.data : "",
                        count == 1 ? one : several);
    text->failed = text->failed || names.failed;
    tdm_text_free(&names);
}

/* How differently far the shades run. */
static void add_difference(tdm_text *text, const tdm_plan *plan)
{
    const tdm_planned_zone *longest = NULL, *shortest = NULL;
    for (size_t i = 0; i < plan->zone_count; i++) {
        const tdm_planned_zone *zone = &plan->zones[i];
        if (!zone->about.planned)
            continue;
        if (!longest || zone->about.shade.feather_to_mm > longest->about.shade.feather_to_mm)
            longest = zone;
        if (!shortest || zone->about.shade.feather_to_mm < shortest->about.shade.feather_to_mm)
            shortest = zone;
    }
    const double more =
        longest ? longest->about.shade.feather_to_mm - shortest->about.shade.feather_to_mm : 0;
    if (more < 1)
        return;
    tdm_text_add(text, " The shade runs ");
    tdm_text_number(text, more, 0, "?");
    tdm_text_format(text, " mm further down at %s than at %s.", longest->about.name, shortest->about.name);
}

tdm_code tdm_plan_put_in_order(tdm_plan *plan, tdm_error *error)
{
    tdm_text text = {0};
    set_order(plan);
    add_order(&text, plan);
    add_difference(&text, plan);
    add_group(&text, plan, "optional", "can be left as it is", "can be left as they are");
    add_group(&text, plan, "not needed", "needs no blend", "need no blend");
    add_group(&text, plan, "not planned", "has a line that a root shade can't take away",
              "have a line that a root shade can't take away");
    add_group(&text, plan, TDM_PLAN_IMPOSSIBLE, "can't be planned from this photograph",
              "can't be planned from this photograph");
    if (text.failed) {
        tdm_text_free(&text);
        return tdm_fail_memory(error, NULL);
    }
    plan->summary = text.data;
    return TDM_OK;
}
