/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tidemark-lights [-v] FOLDER: draws one head under the lights and cameras of lights.json, with and without a
 * target, reads root, mid-lengths and ends of its zones, and prints how far the readings of one place spread.
 * Exit 0 when with a target the spread is within its bounds, 1 when not, 2 when something can't be drawn or
 * read. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "accuracy.h"
#include "scene.h" /* CIEDE2000 apart from the library's */

enum { MOST_LIGHTS = 32, AREAS = 3, ZONES = 3, PLACES = AREAS * ZONES };
static const char *const areas[AREAS] = {"root", "mid", "ends"};
static const double most_level_sd = 0.15, most_mean_de00 = 1, most_worst_de00 = 2;

typedef struct place {
    double level, lab[3];
} place;

typedef struct run {
    const char *names[MOST_LIGHTS];
    place read[MOST_LIGHTS][PLACES];
    size_t count;
} run;

static bool take_place(const tdm_zone_reading *zone, const char *area, place *out)
{
    char path[32];
    tdm_value level;
    (void)snprintf(path, sizeof path, "%s.lab", area);
    const bool has_lab = tdm_zone_lab(zone, tdm_figure_find(path), out->lab);
    (void)snprintf(path, sizeof path, "%s.level", area);
    const bool has_level = tdm_zone_value(zone, tdm_figure_find(path), &level);
    out->level = level.value;
    return has_lab && has_level;
}

static bool read_places(const char *folder, const char *name, place out[PLACES])
{
    char photo[4200];
    tdm_reading *reading = NULL;
    tdm_error error = {0};
    (void)snprintf(photo, sizeof photo, "%s/%s.jpg", folder, name);
    if (tdm_read_photo(photo, NULL, NULL, &reading, &error) != TDM_OK) {
        fprintf(stderr, "%s: %s: %s\n", error.file, error.place, error.text);
        return false;
    }
    bool good = tdm_reading_zone_count(reading) == ZONES;
    for (size_t i = 0; good && i < PLACES; i++)
        good = take_place(tdm_reading_zone(reading, i / AREAS), areas[i % AREAS], &out[i]);
    if (!good)
        fprintf(stderr, "%s: not every place could be read\n", photo);
    tdm_reading_free(reading);
    return good;
}

static bool draw_and_read(const json_t *light, const char *base, const char *folder, bool target, run *into)
{
    char name[128];
    const char *word = json_string_value(json_object_get(light, "name"));
    if (!word || into->count == MOST_LIGHTS)
        return false;
    (void)snprintf(name, sizeof name, "%s%s", word, target ? "" : "-bare");
    json_t *scene = json_deep_copy(light);
    if (!scene)
        return false;
    if (!target)
        (void)json_array_append_new(json_object_get(scene, "set"), json_string("marks.target=false"));
    into->names[into->count] = word;
    const bool good =
        accuracy_render(scene, base, folder, name) && read_places(folder, name, into->read[into->count]);
    json_decref(scene);
    into->count++;
    return good;
}

static void mean_place(const run *of, size_t index, place *out)
{
    *out = (place){0};
    for (size_t i = 0; i < of->count; i++) {
        out->level += of->read[i][index].level / (double)of->count;
        for (int k = 0; k < 3; k++)
            out->lab[k] += of->read[i][index].lab[k] / (double)of->count;
    }
}

/* Standard deviation of the level of one place, worst over the places; CIEDE2000 from a place's mean, mean
 * and worst. */
static bool print_spread(const run *of, const char *title, bool verbose)
{
    double worst_sd = 0, mean = 0, worst = 0, each[MOST_LIGHTS] = {0};
    for (size_t p = 0; p < PLACES; p++) {
        place middle;
        double square = 0;
        mean_place(of, p, &middle);
        for (size_t i = 0; i < of->count; i++) {
            const double off =
                scn_de00((scn_lab){{middle.lab[0], middle.lab[1], middle.lab[2]}},
                         (scn_lab){{of->read[i][p].lab[0], of->read[i][p].lab[1], of->read[i][p].lab[2]}});
            square += pow(of->read[i][p].level - middle.level, 2);
            mean += off / (double)(of->count * PLACES);
            worst = fmax(worst, off);
            each[i] += off / PLACES;
        }
        worst_sd = fmax(worst_sd, sqrt(square / (double)(of->count - 1)));
    }
    printf("| %s | %zu | %.3f | %.2f | %.2f |\n", title, of->count, worst_sd, mean, worst);
    for (size_t i = 0; verbose && i < of->count; i++)
        printf("    %-24s root %6.2f mid %6.2f ends %6.2f  from the mean %.2f\n", of->names[i],
               of->read[i][0].level, of->read[i][1].level, of->read[i][2].level, each[i]);
    return worst_sd <= most_level_sd && mean <= most_mean_de00 && worst <= most_worst_de00;
}

/* Exit status: see the top. */
static int run_all(const json_t *suite, const char *folder, bool verbose)
{
    static run with, bare; /* too large for the stack */
    char base[4200];
    size_t i = 0;
    const json_t *light = NULL;
    (void)snprintf(base, sizeof base, "%s/base.scene.json", folder);
    if (json_dump_file(json_object_get(suite, "base"), base, 0) != 0) {
        fprintf(stderr, "%s: can't be written\n", base);
        return 2;
    }
    json_array_foreach(json_object_get(suite, "lights"), i, light)
    {
        if (!draw_and_read(light, base, folder, true, &with) ||
            !draw_and_read(light, base, folder, false, &bare))
            return 2;
    }
    printf(
        "| photographs | how many | level, worst standard deviation | CIEDE2000 from the mean | worst |\n");
    printf("|---|---|---|---|---|\n");
    const bool good = print_spread(&with, "with the target", verbose);
    (void)print_spread(&bare, "without", verbose);
    return good ? 0 : 1;
}

int main(int count, char **arguments)
{
    const bool verbose = count == 3 && strcmp(arguments[1], "-v") == 0;
    if (count != 2 && !verbose) {
        fprintf(stderr, "usage: tidemark-lights [-v] FOLDER\n");
        return 2;
    }
    const char *folder = arguments[count - 1];
    (void)mkdir(folder, 0777); /* may be there already; drawing fails if it can't be used */
    json_error_t why;
    json_t *suite = json_load_file(ACCURACY_LIGHTS, 0, &why);
    if (!suite) {
        fprintf(stderr, "%s: %s\n", ACCURACY_LIGHTS, why.text);
        return 2;
    }
    const int status = run_all(suite, folder, verbose);
    json_decref(suite);
    return status;
}
