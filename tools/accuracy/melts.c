/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tidemark-melts [-f FIRST] [-n COUNT] FOLDER: draws each scene of melts.json, plans a blend for
 * one of its zones, draws the same head with just that melt, reads it, and prints how far the plan's
 * simulation is from what was read. Exit 0 when every one is within its bound, 1 when not, 2 when something
 * can't be drawn, planned or read. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "accuracy.h"

static const double bound = 0.15, visible = 2; /* relative; of d' at 1.2 m */

typedef struct tally {
    const char *label;
    size_t count, outside;
    double sum, worst;
    char where[64];
} tally;

enum { WIDTH, DPRIME, FIGURES };

/* What a reading says after the melt. */
typedef struct line {
    double width, dprime;
} line;

static void photo_path(const char *folder, const char *name, const char *ending, char path[4200])
{
    (void)snprintf(path, 4200, "%s/%s%s.jpg", folder, name, ending);
}

static bool complain(const tdm_error *error)
{
    fprintf(stderr, "%s: %s: %s\n", error->file, error->place, error->text);
    return false;
}

static bool add_set(json_t *sets, const char *key, const char *value)
{
    char text[160];
    (void)snprintf(text, sizeof text, "%s=%s", key, value);
    return json_array_append_new(sets, json_string(text)) == 0;
}

/* The scene once more, with the shade as planned, alike on all strands. */
static bool draw_melted(const json_t *scene, const tdm_root_shade *shade, const char *base,
                        const char *folder, const char *name)
{
    char lab[96], to[32], feather[32], file[128];
    json_t *melted = json_deep_copy(scene);
    json_t *sets = json_object_get(melted, "set");
    (void)snprintf(lab, sizeof lab, "[%.4f, %.4f, %.4f]", shade->lab[0], shade->lab[1], shade->lab[2]);
    (void)snprintf(to, sizeof to, "%.2f", shade->to_mm);
    (void)snprintf(feather, sizeof feather, "%.2f", shade->feather_mm);
    (void)snprintf(file, sizeof file, "%s-after", name);
    const bool good = melted && add_set(sets, "melt.lab", lab) && add_set(sets, "melt.to_mm", to) &&
                      add_set(sets, "melt.feather_mm", feather) && add_set(sets, "melt.jitter_mm", "0") &&
                      add_set(sets, "melt.lock_jitter_mm", "0") &&
                      accuracy_render(melted, base, folder, file);
    json_decref(melted);
    return good;
}

static bool read_line(const char *path, size_t zone, line *out)
{
    tdm_reading *reading = NULL;
    tdm_error error = {0};
    tdm_value width = {NAN, NAN};
    size_t count = 0;
    *out = (line){NAN, NAN};
    if (tdm_read_photo(path, NULL, NULL, &reading, &error) != TDM_OK)
        return complain(&error);
    const tdm_zone_reading *of = tdm_reading_zone(reading, zone);
    const tdm_visibility *seen =
        of ? tdm_zone_visibility(of, tdm_figure_find("demarcation.visibility"), &count) : NULL;
    if (of && tdm_zone_value(of, tdm_figure_find("gradient.width_mm"), &width))
        out->width = width.value;
    for (size_t i = 0; i < count; i++) {
        if (fabs(seen[i].distance_m - TDM_PLAN_METRES) < 1e-9)
            out->dprime = seen[i].dprime;
    }
    tdm_reading_free(reading);
    return true;
}

static void add(tally *to, double simulated, double drawn, const char *name)
{
    const double off = fabs(simulated / drawn - 1);
    to->count++;
    to->outside += !(off <= bound);
    to->sum += off;
    if (!(off <= to->worst)) {
        to->worst = off;
        (void)snprintf(to->where, sizeof to->where, "%s", name);
    }
}

static bool compare(const json_t *scene, const tdm_zone_plan *zone, size_t index, const char *base,
                    const accuracy_run *run, tally *tallies, size_t *seen)
{
    char path[4200];
    line after;
    const char *name = json_string_value(json_object_get(scene, "name"));
    photo_path(run->folder, name, "-after", path);
    if (!draw_melted(scene, &zone->shade, base, run->folder, name) || !read_line(path, index, &after))
        return false;
    printf("| %s | %.1f | %.0f to %.0f | %.1f | %.1f | %.2f | %.2f |\n", name, zone->dprime,
           zone->shade.feather_from_mm, zone->shade.feather_to_mm, zone->after.width_mm.value, after.width,
           zone->after.dprime.value, after.dprime);
    add(&tallies[WIDTH], zone->after.width_mm.value, after.width, name);
    add(&tallies[DPRIME], zone->after.dprime.value, after.dprime, name);
    *seen += zone->enough && !(after.dprime < visible);
    return true;
}

static bool one_scene(const json_t *scene, size_t number, const char *base, const accuracy_run *run,
                      tally *tallies, size_t *seen)
{
    char path[4200];
    tdm_plan *plan = NULL;
    tdm_error error = {0};
    const char *name = json_string_value(json_object_get(scene, "name"));
    if (!name || !accuracy_render(scene, base, run->folder, name))
        return false;
    photo_path(run->folder, name, "", path);
    if (tdm_plan_photo(path, NULL, NULL, &plan, &error) != TDM_OK)
        return complain(&error);
    const size_t index = number % tdm_plan_zone_count(plan);
    const tdm_zone_plan *zone = tdm_plan_zone(plan, index);
    bool good = zone->planned;
    if (!good)
        fprintf(stderr, "%s: blend %s\n", name, zone->need);
    good = good && compare(scene, zone, index, base, run, tallies, seen);
    tdm_plan_free(plan);
    return good;
}

static bool print(const tally *tallies, size_t seen)
{
    bool good = seen == 0;
    printf("\n| figure | heads | mean difference | worst | beyond %.0f %% |\n|---|---|---|---|---|\n",
           100 * bound);
    for (size_t i = 0; i < FIGURES; i++) {
        printf("| %s | %zu | %.1f %% | %.1f %% (%s) | %zu |\n", tallies[i].label, tallies[i].count,
               100 * tallies[i].sum / (double)tallies[i].count, 100 * tallies[i].worst, tallies[i].where,
               tallies[i].outside);
        good = good && tallies[i].count > 0 && tallies[i].outside == 0;
    }
    printf("\nplanned out of sight and seen all the same: %zu\n", seen);
    return good;
}

/* Exit status: see the top. */
static int run_scenes(const json_t *suite, const accuracy_run *run)
{
    tally tallies[FIGURES] = {[WIDTH] = {.label = "width of the fall"}, [DPRIME] = {.label = "d' at 1.2 m"}};
    char base[4200];
    size_t i = 0, seen = 0;
    const json_t *scene = NULL;
    if (!accuracy_base(json_deep_copy(json_object_get(suite, "base")), run->folder, base))
        return 2;
    printf("| head | d' before | feathered, mm | width simulated | drawn | d' simulated | drawn |\n");
    printf("|---|---|---|---|---|---|---|\n");
    json_array_foreach(json_object_get(suite, "scenes"), i, scene)
    {
        if (i >= run->first && i < (size_t)run->first + run->count &&
            !one_scene(scene, i, base, run, tallies, &seen))
            return 2;
    }
    return print(tallies, seen) ? 0 : 1;
}

int main(int count, char **arguments)
{
    accuracy_run run;
    if (!accuracy_options(count, arguments, "tidemark-melts", &run))
        return 2;
    json_error_t why;
    json_t *suite = json_load_file(ACCURACY_MELTS, 0, &why);
    if (!suite) {
        fprintf(stderr, "%s: %s\n", ACCURACY_MELTS, why.text);
        return 2;
    }
    const int status = run_scenes(suite, &run);
    json_decref(suite);
    return status;
}
