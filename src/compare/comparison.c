/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pairs the zones of two readings by name. */
#include "tidemark/comparison.h"

#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "compare/growth.h"
#include "compare/meaning.h"
#include "compare/setup.h"

struct tdm_comparison {
    const tdm_reading *before;
    const tdm_reading *after;
    tdm_zone_change *zones; /* in the order of the marks of before */
    size_t count;
    tdm_zone_change head;
    tdm_warnings warnings;
};

static const tdm_zone_reading *zone_named(const tdm_reading *reading, const char *name)
{
    for (size_t i = 0; i < tdm_reading_zone_count(reading); i++) {
        const tdm_zone_reading *zone = tdm_reading_zone(reading, i);
        if (strcmp(tdm_zone_name(zone), name) == 0)
            return zone;
    }
    return NULL;
}

static tdm_code fill(tdm_zone_change *change, const tdm_zone_reading *before, const tdm_zone_reading *after,
                     tdm_error *error)
{
    *change = (tdm_zone_change){.before = before, .after = after, .meaning = NULL};
    return tdm_meaning(change, &change->meaning, error);
}

static tdm_code pair_zones(tdm_comparison *comparison, tdm_error *error)
{
    const size_t room = tdm_reading_zone_count(comparison->before);
    comparison->zones = calloc(room ? room : 1, sizeof *comparison->zones);
    if (!comparison->zones)
        return tdm_fail_memory(error, NULL);
    for (size_t i = 0; i < room; i++) {
        const tdm_zone_reading *before = tdm_reading_zone(comparison->before, i);
        const tdm_zone_reading *after = zone_named(comparison->after, tdm_zone_name(before));
        if (!after)
            continue;
        const tdm_code code = fill(&comparison->zones[comparison->count], before, after, error);
        if (code != TDM_OK)
            return code;
        comparison->count++;
    }
    return TDM_OK;
}

static tdm_code tell_growth(tdm_comparison *comparison, tdm_error *error)
{
    const tdm_growth dates = tdm_growth_dates(comparison->before, comparison->after);
    tdm_code code = TDM_OK;
    for (size_t i = 0; code == TDM_OK && i < comparison->count; i++) {
        tdm_zone_change *zone = &comparison->zones[i];
        code = tdm_growth_zone(&dates, zone, &comparison->warnings, &zone->growth, error);
    }
    return code != TDM_OK ? code
                          : tdm_growth_head(&dates, &comparison->head, comparison->zones, comparison->count,
                                            &comparison->head.growth, error);
}

/* A warning for each zone of `there` that `missing` lacks. */
static tdm_code warn_lonely(tdm_warnings *warnings, const tdm_reading *there, const tdm_reading *missing,
                            const char *code, const char *lacking, tdm_error *error)
{
    for (size_t i = 0; i < tdm_reading_zone_count(there); i++) {
        const char *name = tdm_zone_name(tdm_reading_zone(there, i));
        if (zone_named(missing, name))
            continue;
        const tdm_code done =
            tdm_warn(warnings, error, code, name,
                     "the %s photograph has no zone of this name, so that it isn't compared; "
                     "give both marks the same name to compare them",
                     lacking);
        if (done != TDM_OK)
            return done;
    }
    return TDM_OK;
}

static tdm_code build(tdm_comparison *comparison, tdm_error *error)
{
    const tdm_reading *before = comparison->before;
    const tdm_reading *after = comparison->after;
    tdm_code code = pair_zones(comparison, error);
    if (code == TDM_OK && comparison->count == 0)
        code = tdm_fail(error, TDM_ERR_UNUSABLE, NULL, NULL,
                        "no zone is in both photographs; give the zones to be compared the same name in both "
                        "marks files");
    if (code == TDM_OK)
        code = fill(&comparison->head, tdm_reading_head(before), tdm_reading_head(after), error);
    if (code == TDM_OK)
        code = tell_growth(comparison, error);
    if (code == TDM_OK)
        code = warn_lonely(&comparison->warnings, before, after, "zone-only-before", "second", error);
    if (code == TDM_OK)
        code = warn_lonely(&comparison->warnings, after, before, "zone-only-after", "first", error);
    if (code == TDM_OK)
        code = tdm_warn_setup(&comparison->warnings, before, after, error);
    return code;
}

tdm_code tdm_compare(const tdm_reading *before, const tdm_reading *after, tdm_comparison **out,
                     tdm_error *error)
{
    tdm_comparison *comparison = calloc(1, sizeof *comparison);
    if (!comparison)
        return tdm_fail_memory(error, NULL);
    comparison->before = before;
    comparison->after = after;
    const tdm_code code = build(comparison, error);
    if (code != TDM_OK) {
        tdm_comparison_free(comparison);
        return code;
    }
    *out = comparison;
    return TDM_OK;
}

static void free_words(tdm_zone_change *change)
{
    free((char *)change->meaning);
    free((char *)change->growth.text);
}

void tdm_comparison_free(tdm_comparison *comparison)
{
    if (!comparison)
        return;
    for (size_t i = 0; i < comparison->count; i++)
        free_words(&comparison->zones[i]);
    free(comparison->zones);
    free_words(&comparison->head);
    tdm_warnings_free(&comparison->warnings);
    free(comparison);
}

const tdm_reading *tdm_comparison_before(const tdm_comparison *comparison)
{
    return comparison->before;
}

const tdm_reading *tdm_comparison_after(const tdm_comparison *comparison)
{
    return comparison->after;
}

size_t tdm_comparison_zone_count(const tdm_comparison *comparison)
{
    return comparison->count;
}

const tdm_zone_change *tdm_comparison_zone(const tdm_comparison *comparison, size_t index)
{
    return index < comparison->count ? &comparison->zones[index] : NULL;
}

const tdm_zone_change *tdm_comparison_head(const tdm_comparison *comparison)
{
    return &comparison->head;
}

const tdm_warning *tdm_comparison_warnings(const tdm_comparison *comparison, size_t *count)
{
    *count = comparison->warnings.count;
    return comparison->warnings.items;
}
