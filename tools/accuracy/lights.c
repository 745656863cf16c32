/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tidemark-lights [-v] [-t] FOLDER: draws one head under the lights and cameras of lights.json, with a
 * target, with a grey card alone and with neither, reads root, mid-lengths and ends of its zones, and prints
 * how far the readings of one place spread; then the same head between two different lamps, with and without
 * a flat field. With -t only those with a target are drawn. Exit 0 when with a target the spread is within
 * its bounds, 1 when not, 2 when something can't be drawn or read. */
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

/* flat: name of a photograph of plain card, or NULL. */
static bool read_places(const char *folder, const char *name, const char *flat, place out[PLACES])
{
    char photo[4200];
    tdm_reading *reading = NULL;
    tdm_error error = {0};
    char card[4200];
    tdm_read_options options = tdm_read_options_default();
    (void)snprintf(photo, sizeof photo, "%s/%s.jpg", folder, name);
    (void)snprintf(card, sizeof card, "%s/%s.jpg", folder, flat ? flat : "");
    options.flat_field = flat ? card : NULL;
    if (tdm_read_photo(photo, NULL, &options, &reading, &error) != TDM_OK) {
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

/* What stands in the light beside the hair. */
typedef struct mode {
    const char *title, *ending;
    const char *sets[2];
} mode;

static const mode modes[] = {{"with the target", "", {NULL, NULL}},
                             {"with a grey card alone", "-grey", {"marks.target=false", NULL}},
                             {"with neither", "-bare", {"marks.target=false", "marks.grey=false"}}};
enum { MODES = sizeof modes / sizeof modes[0] };

static bool draw_with(const json_t *light, const char *base, const char *folder, const char *name,
                      const char *const sets[2])
{
    json_t *scene = json_deep_copy(light);
    for (int i = 0; scene && i < 2; i++) {
        if (sets[i])
            (void)json_array_append_new(json_object_get(scene, "set"), json_string(sets[i]));
    }
    const bool good = scene && accuracy_render(scene, base, folder, name);
    json_decref(scene);
    return good;
}

static bool draw_and_read(const json_t *light, const char *base, const char *folder, const mode *by,
                          run *into)
{
    char name[128];
    const char *word = json_string_value(json_object_get(light, "name"));
    if (!word || into->count == MOST_LIGHTS)
        return false;
    (void)snprintf(name, sizeof name, "%s%s", word, by->ending);
    into->names[into->count] = word;
    const bool good = draw_with(light, base, folder, name, by->sets) &&
                      read_places(folder, name, NULL, into->read[into->count]);
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

static double difference(const place *a, const place *b)
{
    return scn_de00((scn_lab){{a->lab[0], a->lab[1], a->lab[2]}},
                    (scn_lab){{b->lab[0], b->lab[1], b->lab[2]}});
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
            const double off = difference(&middle, &of->read[i][p]);
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

/* CIEDE2000 and level from the mean of the run, over all places. */
static void print_against(const run *mean_of, const place read[PLACES], const char *title)
{
    double mean = 0, worst = 0, level = 0;
    for (size_t p = 0; p < PLACES; p++) {
        place middle;
        mean_place(mean_of, p, &middle);
        const double off = difference(&middle, &read[p]);
        mean += off / PLACES;
        worst = fmax(worst, off);
        level = fmax(level, fabs(read[p].level - middle.level));
    }
    printf("| %s | 1 | %.3f | %.2f | %.2f |\n", title, level, mean, worst);
}

static bool two_lamps(const json_t *suite, const char *base, const char *folder, const run *mean_of)
{
    static const char *const none[2] = {NULL, NULL}, *const card[2] = {"only=flat", NULL};
    const json_t *light = json_object_get(suite, "across");
    place plain[PLACES], corrected[PLACES];
    if (!draw_with(light, base, folder, "across", none) ||
        !draw_with(light, base, folder, "across-card", card) || !read_places(folder, "across", NULL, plain) ||
        !read_places(folder, "across", "across-card", corrected))
        return false;
    print_against(mean_of, plain, "between two lamps, target (level: worst difference)");
    print_against(mean_of, corrected, "the same, and a flat field");
    return true;
}

/* Exit status: see the top. */
static int run_all(const json_t *suite, const char *folder, bool verbose, bool target_alone)
{
    static run runs[MODES]; /* too large for the stack */
    const size_t wanted = target_alone ? 1 : MODES;
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
        for (size_t m = 0; m < wanted; m++) {
            if (!draw_and_read(light, base, folder, &modes[m], &runs[m]))
                return 2;
        }
    }
    bool good = false;
    printf(
        "| photographs | how many | level, worst standard deviation | CIEDE2000 from the mean | worst |\n");
    printf("|---|---|---|---|---|\n");
    for (size_t m = 0; m < wanted; m++) {
        const bool within = print_spread(&runs[m], modes[m].title, verbose);
        good = m == 0 ? within : good;
    }
    if (!target_alone && !two_lamps(suite, base, folder, &runs[0]))
        return 2;
    return good ? 0 : 1;
}

int main(int count, char **arguments)
{
    bool verbose = false, target_alone = false, known = true;
    int option = 0;
    while (known && (option = getopt(count, arguments, "vt")) != -1) {
        known = option != '?';
        verbose = verbose || option == 'v';
        target_alone = target_alone || option == 't';
    }
    if (!known || optind + 1 != count) {
        fprintf(stderr, "usage: tidemark-lights [-v] [-t] FOLDER\n");
        return 2;
    }
    const char *folder = arguments[optind];
    (void)mkdir(folder, 0777); /* may be there already; drawing fails if it can't be used */
    json_error_t why;
    json_t *suite = json_load_file(ACCURACY_LIGHTS, 0, &why);
    if (!suite) {
        fprintf(stderr, "%s: %s\n", ACCURACY_LIGHTS, why.text);
        return 2;
    }
    const int status = run_all(suite, folder, verbose, target_alone);
    json_decref(suite);
    return status;
}
