/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "accuracy.h"

/* The bounds that the project set itself for drawn photographs. The contrast is that of the hairs
 * themselves, though a pixel may hold both kinds. */
const accuracy_figure accuracy_figures[] = {
    {"level at the root", "root.level", {"root", "level"}, -1, 0.5, 0, 0, "level"},
    {"level at mid-lengths", "mid.level", {"mid", "level"}, -1, 0.5, 0, 0, "level"},
    {"level at the ends", "ends.level", {"ends", "level"}, -1, 0.5, 0, 0, "level"},
    {"centre of the fall", "gradient.centre_mm", {"gradient", "centre_mm"}, -1, 3, 0, 0, "mm"},
    {"width of the fall", "gradient.width_mm", {"gradient", "width_mm"}, -1, 2, 0.15, 0.03, "mm"},
    {"share of light strands", "strands.light_share", {"strands", "light_share"}, -1, 0.08, 0, 0.03, ""},
    {"contrast of strands", "strands.contrast_lstar", {"strands", "contrast_lstar"}, -1, 0, 0.15, 0.04, "L*"},
};
const size_t accuracy_figure_count = sizeof accuracy_figures / sizeof accuracy_figures[0];

static double true_number(const json_t *zone, const accuracy_figure *figure)
{
    const json_t *value = json_object_get(json_object_get(zone, figure->truth[0]), figure->truth[1]);
    if (figure->index >= 0)
        value = json_array_get(value, (size_t)figure->index);
    return json_is_number(value) ? json_number_value(value) : NAN;
}

static const json_t *true_zone(const json_t *truth, const char *name)
{
    size_t i = 0;
    const json_t *zone = NULL;
    json_array_foreach(json_object_get(truth, "zones"), i, zone)
    {
        const char *here = json_string_value(json_object_get(zone, "name"));
        if (here && strcmp(here, name) == 0)
            return zone;
    }
    return NULL;
}

static double mean_number(const json_t *truth, const accuracy_figure *figure)
{
    double sum = 0, count = 0;
    size_t i = 0;
    const json_t *zone = NULL;
    json_array_foreach(json_object_get(truth, "zones"), i, zone)
    {
        sum += true_number(zone, figure);
        count++;
    }
    return sum / count;
}

static void add_one(const accuracy_figure *figure, double truth, const tdm_zone_reading *zone,
                    const char *where, bool verbose, accuracy_tally *tally)
{
    tdm_value found = {NAN, NAN};
    if (!tdm_zone_value(zone, tdm_figure_find(figure->figure), &found)) {
        tally->missing++;
        if (verbose)
            printf("%-28s %-24s truth %8.3f, not read\n", where, figure->label, truth);
        return;
    }
    const double error = found.value - truth, bound = fmax(figure->absolute, figure->relative * fabs(truth));
    tally->count++;
    tally->sum += fabs(error);
    tally->outside += fabs(error) > bound;
    tally->covered += isfinite(found.u) && fabs(error) <= found.u; /* no u holds nothing */
    tally->sum_u += isfinite(found.u) ? found.u : 0;
    if (fabs(error) / bound > tally->worst_bound_share) {
        tally->worst_bound_share = fabs(error) / bound;
        tally->worst = fabs(error);
        (void)snprintf(tally->worst_where, sizeof tally->worst_where, "%s", where);
    }
    if (verbose)
        printf("%-28s %-24s truth %8.3f read %8.3f u %7.3f error %+8.3f%s\n", where, figure->label, truth,
               found.value, found.u, error, fabs(error) > bound ? "  OUTSIDE" : "");
}

void accuracy_add(const tdm_reading *reading, const json_t *truth, const char *name, bool pooled,
                  bool verbose, accuracy_tally *tallies)
{
    for (size_t i = 0; i < tdm_reading_zone_count(reading); i++) {
        const tdm_zone_reading *zone = tdm_reading_zone(reading, i);
        const json_t *known = true_zone(truth, tdm_zone_name(zone));
        char where[160];
        (void)snprintf(where, sizeof where, "%s/%s", name, tdm_zone_name(zone));
        for (size_t k = 0; known && k < accuracy_figure_count; k++) {
            const double value =
                pooled ? mean_number(truth, &accuracy_figures[k]) : true_number(known, &accuracy_figures[k]);
            if (isfinite(value))
                add_one(&accuracy_figures[k], value, zone, where, verbose, &tallies[k]);
        }
    }
}

bool accuracy_print(const accuracy_tally *tallies, size_t scenes)
{
    bool good = scenes > 0;
    printf("\n%zu scenes\n\n", scenes);
    printf("| figure | zones | mean error | worst error | bound | outside | not read | within u |\n");
    printf("|---|---|---|---|---|---|---|---|\n");
    for (size_t k = 0; k < accuracy_figure_count; k++) {
        const accuracy_figure *figure = &accuracy_figures[k];
        const accuracy_tally *tally = &tallies[k];
        char bound[64];
        if (figure->relative > 0 && figure->absolute > 0)
            (void)snprintf(bound, sizeof bound, "%g %% or %g %s", 100 * figure->relative, figure->absolute,
                           figure->unit);
        else if (figure->relative > 0)
            (void)snprintf(bound, sizeof bound, "%g %%", 100 * figure->relative);
        else
            (void)snprintf(bound, sizeof bound, "%g %s", figure->absolute, figure->unit);
        printf("| %s | %zu | %.3f %s | %.3f (%s) | %s | %zu | %zu | %.0f %% |\n", figure->label, tally->count,
               tally->count ? tally->sum / (double)tally->count : NAN, figure->unit, tally->worst,
               tally->worst_where, bound, tally->outside, tally->missing,
               tally->count ? 100.0 * (double)tally->covered / (double)tally->count : NAN);
        const size_t zones = tally->count + tally->missing;
        good = good && zones > 0 &&
               (double)(tally->outside + tally->missing) <= figure->most_outside * (double)zones;
    }
    return good;
}
