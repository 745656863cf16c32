/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From a photograph to a plan. */
#include <math.h>
#include <stdlib.h>

#include "base/fail.h"
#include "measure/read.h"
#include "plan/plan_parts.h"

static const double least_target = 1, most_target = 12;

tdm_plan_options tdm_plan_options_default(void)
{
    return (tdm_plan_options){.read = tdm_read_options_default(), .target_level = NAN};
}

static void clear_zone(tdm_planned_zone *zone)
{
    free((char *)zone->about.why);
    free((char *)zone->about.blend);
    free((char *)zone->about.leave);
    tdm_hair_free(&zone->hair);
}

void tdm_plan_free(tdm_plan *plan)
{
    if (!plan)
        return;
    for (size_t i = 0; i < plan->zone_count; i++)
        clear_zone(&plan->zones[i]);
    free(plan->zones);
    free(plan->summary);
    tdm_reading_free(plan->reading);
    free(plan);
}

static tdm_planned_zone nothing_known(void)
{
    return (tdm_planned_zone){
        .about = {.need = TDM_PLAN_IMPOSSIBLE, .dprime = NAN, .weight = 1, .light = tdm_light_unknown()},
        .light_from = NAN};
}

/* Room for one more zone than that of the index, and those before it. */
static tdm_code reach(tdm_plan *plan, size_t count, tdm_error *error)
{
    if (count <= plan->zone_count)
        return TDM_OK;
    tdm_planned_zone *grown = realloc(plan->zones, count * sizeof *grown);
    if (!grown)
        return tdm_fail_memory(error, NULL);
    plan->zones = grown;
    while (plan->zone_count < count)
        plan->zones[plan->zone_count++] = nothing_known();
    return TDM_OK;
}

static tdm_code take_zone(void *to, const tdm_reading *reading, size_t index, const tdm_strip *strip,
                          tdm_error *error)
{
    tdm_plan *plan = to;
    tdm_planned_zone zone = nothing_known();
    tdm_code code = reach(plan, index + 1, error);
    if (code == TDM_OK)
        code = tdm_plan_zone_make(strip, &reading->zones[index], &reading->scale, plan->target_level, &zone,
                                  error);
    if (code == TDM_OK)
        plan->zones[index] = zone;
    else
        tdm_hair_free(&zone.hair);
    return code;
}

/* What is left when the whole photograph turns out not to carry a measurement. */
static void withdraw(tdm_planned_zone *zone)
{
    tdm_hair_free(&zone->hair);
    *zone = nothing_known();
}

static tdm_code finish(tdm_plan *plan, tdm_error *error)
{
    const tdm_reading *reading = plan->reading;
    tdm_code code = reach(plan, reading->zone_count, error);
    for (size_t i = 0; code == TDM_OK && i < reading->zone_count; i++) {
        tdm_planned_zone *zone = &plan->zones[i];
        if (!reading->usable)
            withdraw(zone);
        zone->about.name = reading->zones[i].name;
        zone->about.weight = reading->zones[i].weight;
        code = tdm_plan_say(&reading->zones[i], &reading->scale, zone, error);
    }
    return code == TDM_OK ? tdm_plan_put_in_order(plan, error) : code;
}

tdm_code tdm_plan_photo(const char *photo_path, const char *marks_path, const tdm_plan_options *options,
                        tdm_plan **out, tdm_error *error)
{
    const tdm_plan_options how = options ? *options : tdm_plan_options_default();
    if (how.target_level < least_target || how.target_level > most_target)
        return tdm_fail(error, TDM_ERR_USAGE, NULL, "target level", "must be 1 to 12");
    tdm_plan *plan = calloc(1, sizeof *plan);
    if (!plan)
        return tdm_fail_memory(error, photo_path);
    plan->target_level = how.target_level;
    const tdm_read_watch watch = {.zone = take_zone, .to = plan};
    tdm_code code = tdm_read_watched(photo_path, marks_path, &how.read, &watch, &plan->reading, error);
    if (code == TDM_OK)
        code = finish(plan, error);
    if (code != TDM_OK) {
        tdm_plan_free(plan);
        return code;
    }
    *out = plan;
    return TDM_OK;
}

size_t tdm_plan_zone_count(const tdm_plan *plan)
{
    return plan->zone_count;
}

const tdm_zone_plan *tdm_plan_zone(const tdm_plan *plan, size_t index)
{
    return index < plan->zone_count ? &plan->zones[index].about : NULL;
}

const char *tdm_plan_summary(const tdm_plan *plan)
{
    return plan->summary;
}

const tdm_reading *tdm_plan_reading(const tdm_plan *plan)
{
    return plan->reading;
}
