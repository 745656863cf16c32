/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tidemark-coverage [-v] [-k] [-f FIRST] [-n COUNT] FOLDER: draws COUNT scenes at random (200, from number 0)
 * into FOLDER, reads them, and prints how often the truth lies within the stated uncertainty. The photographs
 * are removed again. Exit 0 when each figure is held in 90 to 99 of 100 zones, 1 when not, 2 when something
 * can't be drawn or read. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "accuracy.h"

static const double least_covered = 0.9, most_covered = 0.99;

/* PCG32 (M. E. O'Neill 2014). */
typedef struct draw {
    uint64_t state;
} draw;

static uint32_t bits(draw *from)
{
    const uint64_t old = from->state;
    from->state = old * 6364136223846793005u + 1442695040888963407u;
    const uint32_t word = (uint32_t)(((old >> 18) ^ old) >> 27), turn = (uint32_t)(old >> 59);
    return (word >> turn) | (word << ((32 - turn) & 31));
}

static double even(draw *from, double low, double high)
{
    return low + (high - low) * bits(from) / 4294967296.0;
}

static double even_log(draw *from, double low, double high)
{
    return exp(even(from, log(low), log(high)));
}

static bool chance(draw *from, double share)
{
    return even(from, 0, 1) < share;
}

static void set_number(json_t *sets, const char *key, double value)
{
    char text[128];
    (void)snprintf(text, sizeof text, "%s=%.4g", key, value);
    (void)json_array_append_new(sets, json_string(text));
}

static void set_word(json_t *sets, const char *key, const char *value)
{
    char text[128];
    (void)snprintf(text, sizeof text, "%s=%s", key, value);
    (void)json_array_append_new(sets, json_string(text));
}

/* The head: dark roots, a fall of any width, lights of any share and weave. */
static void draw_head(draw *from, json_t *sets)
{
    const double natural = even(from, 2, 6), old = fmin(natural + even(from, 1.5, 3.5), 8);
    set_number(sets, "natural.level", natural);
    set_number(sets, "natural.warmth", even(from, 0.05, 0.35));
    set_number(sets, "old.level", old);
    set_number(sets, "old.warmth", even(from, 0.1, 0.4));
    set_number(sets, "course.centre_mm", even(from, 25, 80));
    set_number(sets, "course.width_mm", even_log(from, 3, 60));
    set_number(sets, "course.jitter_mm", even(from, 0.3, 4));
    set_number(sets, "course.lock_jitter_mm", even(from, 0.3, 4));
    set_number(sets, "light.share", even(from, 0.12, 0.55));
    set_number(sets, "light.level", fmin(old + even(from, 1.5, 3), 10));
    set_number(sets, "light.ribbon_mm", even_log(from, 1.5, 9));
    set_word(sets, "light.spacing", chance(from, 0.3) ? "regular" : "random");
    set_number(sets, "texture_l", even(from, 0.8, 2.5));
    set_number(sets, "shading", even(from, 0.2, 0.5));
    set_number(sets, "gloss", chance(from, 0.5) ? 0 : even(from, 0, 0.1)); /* half with crossed polarisers */
}

/* Daylight, warm lamps, or both; the main light falling off across the picture. */
static void draw_light(draw *from, json_t *sets)
{
    char share[64];
    if (chance(from, 0.25))
        set_number(sets, "lamp.kelvin_planck", even(from, 2800, 3400));
    else
        set_number(sets, "lamp.cct", even(from, 4500, 7000));
    if (chance(from, 0.15)) {
        (void)snprintf(share, sizeof share, "[%.3f, %.3f]", even(from, 0, 0.2), even(from, 0.1, 0.3));
        set_number(sets, "lamp.second.kelvin_planck", even(from, 2800, 3400));
        set_word(sets, "lamp.second.share", share);
    }
    set_number(sets, "camera.uneven", even(from, 0, 0.3));
}

static void draw_camera(draw *from, json_t *sets)
{
    static const char *const cameras[] = {"ideal", "real", "real-b"};
    char balance[96];
    (void)snprintf(balance, sizeof balance, "[%.3f, 1, %.3f]", even(from, 0.85, 1.2), even(from, 0.8, 1.15));
    set_word(sets, "camera.sensitivity", cameras[bits(from) % 3]);
    set_number(sets, "camera.exposure_ev", even(from, -1, 0.3));
    set_word(sets, "camera.white_balance", balance);
    set_number(sets, "camera.tone", even(from, 0, 0.6));
    set_number(sets, "camera.noise", even(from, 0.1, 1));
    set_number(sets, "camera.blur_px", even(from, 0.4, 1.2));
    set_number(sets, "camera.quality", floor(even(from, 80, 98)));
    set_word(sets, "camera.profile", chance(from, 0.3) ? "display-p3" : "srgb");
    set_word(sets, "target.edition", chance(from, 0.5) ? "before-2014" : "since-2014");
    set_number(sets, "target.tilt_deg", even(from, 0, 12));
    set_number(sets, "target.tilt_axis_deg", even(from, 0, 180));
}

static json_t *draw_scene(unsigned number, const char *name)
{
    draw from = {.state = 0x9e3779b97f4a7c15u * (number + 1)};
    json_t *sets = json_array();
    (void)bits(&from);
    set_number(sets, "seed", number + 1000);
    draw_head(&from, sets);
    draw_light(&from, sets);
    draw_camera(&from, sets);
    return json_pack("{s:s, s:o}", "name", name, "set", sets);
}

static void remove_files(const char *folder, const char *name)
{
    static const char *const endings[] = {".jpg", ".marks.json", ".truth.json"};
    char path[4200];
    for (size_t i = 0; i < sizeof endings / sizeof endings[0]; i++) {
        (void)snprintf(path, sizeof path, "%s/%s%s", folder, name, endings[i]);
        (void)unlink(path);
    }
}

static bool is_there(const char *folder, const char *name)
{
    char path[4200];
    (void)snprintf(path, sizeof path, "%s/%s.truth.json", folder, name);
    return access(path, R_OK) == 0;
}

static bool print_coverage(const accuracy_tally *tallies, size_t scenes)
{
    bool good = scenes > 0;
    printf("\n%zu scenes\n\n| figure | zones | within u | mean u | mean error | not read "
           "|\n|---|---|---|---|---|---|\n",
           scenes);
    for (size_t k = 0; k < accuracy_figure_count; k++) {
        const accuracy_tally *tally = &tallies[k];
        const double covered = (double)tally->covered / (double)tally->with_u;
        printf("| %s | %zu | %.1f %% | %.3f %s | %.3f %s | %zu |\n", accuracy_figures[k].label, tally->with_u,
               100 * covered, tally->sum_u / (double)tally->with_u, accuracy_figures[k].unit,
               tally->sum / (double)tally->count, accuracy_figures[k].unit, tally->missing);
        good = good && covered >= least_covered && covered <= most_covered;
    }
    return good;
}

/* Exit status: see the top. */
static int run(const char *folder, unsigned first, unsigned count, bool verbose, bool kept)
{
    accuracy_tally tallies[ACCURACY_FIGURES] = {{0}};
    char base[4200], name[32];
    (void)snprintf(base, sizeof base, "%s/base.scene.json", folder);
    json_t *common = json_pack("{s:[i,i]}", "size", 2000, 1500);
    const bool written = common && json_dump_file(common, base, 0) == 0;
    json_decref(common);
    if (!written) {
        fprintf(stderr, "%s: can't be written\n", base);
        return 2;
    }
    for (unsigned i = first; i < first + count; i++) {
        (void)snprintf(name, sizeof name, "random-%u", i);
        json_t *scene = draw_scene(i, name);
        const bool good = scene && (is_there(folder, name) || accuracy_render(scene, base, folder, name)) &&
                          accuracy_read(folder, name, true, verbose, tallies);
        json_decref(scene);
        if (!kept)
            remove_files(folder, name);
        if (!good)
            return 2;
    }
    return print_coverage(tallies, count) ? 0 : 1;
}

int main(int count, char **arguments)
{
    unsigned first = 0, scenes = 200;
    bool verbose = false, kept = false, known = true;
    int option = 0;
    while (known && (option = getopt(count, arguments, "vkf:n:")) != -1) {
        known = option != '?';
        verbose = verbose || option == 'v';
        kept = kept || option == 'k';
        if (option == 'f')
            first = (unsigned)strtoul(optarg, NULL, 10);
        if (option == 'n')
            scenes = (unsigned)strtoul(optarg, NULL, 10);
    }
    if (!known || optind + 1 != count) {
        fprintf(stderr, "usage: tidemark-coverage [-v] [-k] [-f FIRST] [-n COUNT] FOLDER\n");
        return 2;
    }
    (void)mkdir(arguments[optind], 0777); /* may be there already; drawing fails if it can't be used */
    return run(arguments[optind], first, scenes, verbose, kept);
}
