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
#include "draw.h"

static const double least_covered = 0.9, most_covered = 0.99;

/* The head: dark roots, a fall of any width, lights of any share and weave. */
static void draw_head(draw *from, json_t *sets)
{
    const double natural = draw_even(from, 2, 6), old = fmin(natural + draw_even(from, 1.5, 3.5), 8);
    set_number(sets, "natural.level", natural);
    set_number(sets, "natural.warmth", draw_even(from, 0.05, 0.35));
    set_number(sets, "old.level", old);
    set_number(sets, "old.warmth", draw_even(from, 0.1, 0.4));
    set_number(sets, "course.centre_mm", draw_even(from, 25, 80));
    set_number(sets, "course.width_mm", draw_even_log(from, 3, 60));
    set_number(sets, "course.jitter_mm", draw_even(from, 0.3, 4));
    set_number(sets, "course.lock_jitter_mm", draw_even(from, 0.3, 4));
    set_number(sets, "light.share", draw_even(from, 0.12, 0.55));
    set_number(sets, "light.level", fmin(old + draw_even(from, 1.5, 3), 10));
    set_number(sets, "light.ribbon_mm", draw_even_log(from, 1.5, 9));
    set_word(sets, "light.spacing", draw_chance(from, 0.3) ? "regular" : "random");
    set_number(sets, "texture_l", draw_even(from, 0.8, 2.5));
    set_number(sets, "shading", draw_even(from, 0.2, 0.5));
    set_number(sets, "gloss",
               draw_chance(from, 0.5) ? 0 : draw_even(from, 0, 0.1)); /* half with crossed polarisers */
}

static json_t *draw_scene(unsigned number, const char *name)
{
    draw from = draw_start(number);
    json_t *sets = json_array();
    set_number(sets, "seed", number + 1000);
    draw_head(&from, sets);
    draw_light(&from, sets, 0.3);
    draw_camera(&from, sets);
    return json_pack("{s:s, s:o}", "name", name, "set", sets);
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
        const double covered = (double)tally->covered / (double)tally->count;
        printf("| %s | %zu | %.1f %% | %.3f %s | %.3f %s | %zu |\n", accuracy_figures[k].label, tally->count,
               100 * covered, tally->sum_u / (double)tally->count, accuracy_figures[k].unit,
               tally->sum / (double)tally->count, accuracy_figures[k].unit, tally->missing);
        good = good && covered >= least_covered && covered <= most_covered;
    }
    return good;
}

/* Exit status: see the top. */
static int run(const accuracy_run *asked)
{
    accuracy_tally tallies[ACCURACY_FIGURES] = {{0}};
    char base[4200], name[32];
    if (!accuracy_base(json_pack("{s:[i,i]}", "size", 2000, 1500), asked->folder, base))
        return 2;
    for (unsigned i = asked->first; i < asked->first + asked->count; i++) {
        (void)snprintf(name, sizeof name, "random-%u", i);
        json_t *scene = draw_scene(i, name);
        const bool good =
            scene && (is_there(asked->folder, name) || accuracy_render(scene, base, asked->folder, name)) &&
            accuracy_read(asked->folder, name, true, asked->verbose, tallies);
        json_decref(scene);
        if (!asked->kept)
            accuracy_remove(asked->folder, name);
        if (!good)
            return 2;
    }
    return print_coverage(tallies, asked->count) ? 0 : 1;
}

int main(int count, char **arguments)
{
    accuracy_run asked;
    return accuracy_options(count, arguments, "tidemark-coverage", &asked) ? run(&asked) : 2;
}
