/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tidemark-strands [-v] [-k] [-f FIRST] [-n COUNT] FOLDER: draws COUNT scenes of each kind into FOLDER, reads
 * them, and says how far the figures of light and dark strands are off what was drawn and shows: kind by
 * kind, then figure by figure. Shares, ribbons and contrasts are drawn anew for each number, the same in
 * every kind: the share from 0.05 to 0.6, ribbons from 0.7 to 12 mm, the contrast from 3 to 40 L*. Exit 0
 * when the aims are met, 1 when they aren't, 2 when something can't be drawn or read. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "accuracy.h"
#include "draw.h"
#include "strand_errors.h"

typedef struct kind {
    const char *name;
    double gloss;
    bool plain;  /* no lights */
    bool waves;  /* of 3 to 8 mm over 60 to 120 mm */
    bool slant;  /* zones turned by up to 30 degrees */
    bool second; /* two kinds of lights */
    bool still;  /* hair that doesn't drift: ribbons stay as designed */
    bool near;   /* 10 px a mm instead of 5 */
} kind;

/* A smaller head in a smaller field, with the target alone. */
#define HELD "target.in_marks_width=true", "marks.grey=false", "marks.scale=false"
#define TWO_ZONES                                                                                            \
    "zones=[{\"name\":\"a\",\"at_mm\":38,\"width_mm\":50,\"length_mm\":140},"                                \
    "{\"name\":\"b\",\"at_mm\":92,\"width_mm\":50,\"length_mm\":140}]"
static const char *const small_head[] = {HELD,
                                         "size=[1300, 975]",
                                         "field_mm=[260, 195]",
                                         "hair.length_mm=160.0",
                                         "hair.span_mm=130.0",
                                         "target.at_mm=[218, 40]",
                                         "target.width_mm=64.0",
                                         TWO_ZONES};
enum { HEAD = sizeof small_head / sizeof small_head[0] }; /* settings of either */
static const char *const near_head[HEAD] = {
    HELD,
    "size=[1600, 1200]",
    "field_mm=[160, 120]",
    "hair.length_mm=85.0",
    "hair.span_mm=60.0",
    "target.at_mm=[131, 20]",
    "target.width_mm=32.0",
    "zones=[{\"name\":\"nape\",\"at_mm\":30,\"width_mm\":44,\"length_mm\":70}]"};

static const kind kinds[] = {
    {.name = "as it is"},
    {.name = "gloss 0.1", .gloss = 0.1},
    {.name = "hair that lies still", .still = true},
    {.name = "waves", .waves = true},
    {.name = "aslant", .slant = true},
    {.name = "new lights and old ones", .second = true},
    {.name = "10 px a mm", .near = true},
    {.name = "uniform hair", .plain = true},
    {.name = "uniform hair, gloss 0.1, waves", .gloss = 0.1, .plain = true, .waves = true},
};
enum { KINDS = sizeof kinds / sizeof kinds[0] };

static void set_lab(json_t *sets, const char *key, double lstar, double a, double b)
{
    char value[96];
    (void)snprintf(value, sizeof value, "[%.2f, %.2f, %.2f]", lstar, a, b);
    set_word(sets, key, value);
}

/* Hair that is dark from root to tip, or lights that begin with the lengths. */
static void set_lights(draw *from, json_t *sets, strand_scene *scene)
{
    const double contrast = draw_even_log(from, 3, 40), dark = draw_even(from, 22, fmin(50, 82 - contrast)),
                 light = dark + contrast, share = draw_even_log(from, 0.05, 0.6);
    scene->regular = draw_chance(from, 0.5);
    set_lab(sets, "old.lab", dark, 8, 0.45 * dark);
    set_lab(sets, "light.lab", light, fmax(2, 10 - 0.1 * light), 24 - 0.05 * light);
    set_number(sets, "light.share", share);
    set_number(sets, "light.ribbon_mm", draw_even_log(from, 0.7, 12));
    set_word(sets, "light.spacing", scene->regular ? "regular" : "random");
    if (draw_chance(from, 0.5)) {
        set_word(sets, "course.shape", "uniform");
        set_lab(sets, "natural.lab", dark, 8, 0.45 * dark);
    } else {
        set_lab(sets, "natural.lab", fmax(18, dark - draw_even(from, 0, 8)), 7, 0.4 * dark);
        set_number(sets, "course.centre_mm", draw_even(from, 15, 40));
    }
}

static void set_second(draw *from, json_t *sets)
{
    set_number(sets, "lights2.share", draw_even(from, 0.1, 0.3));
    set_number(sets, "lights2.ribbon_mm", draw_even_log(from, 2, 8));
    set_lab(sets, "lights2.lab", draw_even(from, 40, 55), 16, 28);
}

static void set_plain(draw *from, json_t *sets)
{
    set_word(sets, "course.shape", "uniform");
    set_number(sets, "natural.level", draw_even(from, 2, 9));
    set_number(sets, "light.share", 0);
    set_number(sets, "texture_l", draw_even(from, 0.5, 2.5));
}

static void set_waves(draw *from, json_t *sets)
{
    set_number(sets, "hair.wave_mm", draw_even(from, 3, 8));
    set_number(sets, "hair.wavelength_mm", draw_even(from, 60, 120));
}

/* Both turned towards the middle of the head. */
static void set_slant(draw *from, json_t *sets)
{
    char zones[256];
    (void)snprintf(zones, sizeof zones,
                   "zones=[{\"name\":\"a\",\"at_mm\":35,\"width_mm\":36,\"length_mm\":105,\"turn_deg\":%.1f},"
                   "{\"name\":\"b\",\"at_mm\":95,\"width_mm\":36,\"length_mm\":105,\"turn_deg\":%.1f}]",
                   -draw_even(from, 10, 30), draw_even(from, 10, 30));
    (void)json_array_append_new(sets, json_string(zones));
}

static json_t *make_scene(const kind *of, unsigned number, strand_scene *told)
{
    draw from = draw_start(number);
    json_t *sets = json_array(), *scene = json_pack("{s:o}", "set", sets);
    *told = (strand_scene){.lit = !of->plain, .two = of->second, .px_mm = of->near ? 10 : 5};
    if (!scene)
        return NULL;
    for (size_t i = 0; i < HEAD; i++)
        (void)json_array_append_new(sets, json_string(of->near ? near_head[i] : small_head[i]));
    set_number(sets, "seed", 900 + number);
    set_number(sets, "gloss", of->gloss);
    if (of->plain)
        set_plain(&from, sets);
    else
        set_lights(&from, sets, told);
    if (of->second)
        set_second(&from, sets);
    if (of->waves)
        set_waves(&from, sets);
    if (of->still) {
        set_number(sets, "hair.drift", 0);
        set_number(sets, "light.stray", 1);
        set_number(sets, "hair.clump", 0);
    }
    if (of->slant)
        set_slant(&from, sets);
    return scene;
}

static bool read_scene(const accuracy_run *asked, const kind *of, const char *name, const strand_scene *scene,
                       strand_tallies *into)
{
    char photo[4200], path[4200], where[96];
    tdm_reading *reading = NULL;
    tdm_error error = {0};
    (void)snprintf(photo, sizeof photo, "%s/%s.jpg", asked->folder, name);
    (void)snprintf(path, sizeof path, "%s/%s.truth.json", asked->folder, name);
    json_t *truth = json_load_file(path, 0, NULL);
    const bool good = truth && tdm_read_photo(photo, NULL, NULL, &reading, &error) == TDM_OK;
    if (!good)
        fprintf(stderr, "%s: %s: %s\n", name, error.place, error.text);
    for (size_t i = 0; good && i < tdm_reading_zone_count(reading); i++) {
        const tdm_zone_reading *zone = tdm_reading_zone(reading, i);
        (void)snprintf(where, sizeof where, "%s, %s %s", of->name, name, tdm_zone_name(zone));
        strand_add(zone, json_array_get(json_object_get(truth, "zones"), i), scene, where, asked->verbose,
                   into);
    }
    tdm_reading_free(reading);
    json_decref(truth);
    return good;
}

static bool one(const accuracy_run *asked, const char *base, size_t at, unsigned number, strand_tallies *into)
{
    char name[64];
    strand_scene told;
    (void)snprintf(name, sizeof name, "strands-%zu-%u", at, number);
    json_t *scene = make_scene(&kinds[at], number, &told);
    const bool good = scene && accuracy_render(scene, base, asked->folder, name) &&
                      read_scene(asked, &kinds[at], name, &told, into);
    json_decref(scene);
    if (!asked->kept)
        accuracy_remove(asked->folder, name);
    return good;
}

/* Exit status: see the top. */
static int run(const accuracy_run *asked)
{
    char base[4200];
    strand_tallies all = {0};
    json_t *scene = json_pack("{s:f}", "shading", 0.35);
    if (!accuracy_base(scene, asked->folder, base))
        return 2;
    strand_print_head();
    for (size_t i = 0; i < KINDS; i++) {
        strand_tallies here = {0};
        for (unsigned k = asked->first; k < asked->first + asked->count; k++) {
            if (!one(asked, base, i, k, &here))
                return 2;
        }
        strand_print_row(kinds[i].name, &here);
        (void)fflush(stdout);
        strand_join(&here, &all);
    }
    strand_print_figures(&all);
    return strand_within(&all) ? 0 : 1;
}

int main(int count, char **arguments)
{
    accuracy_run asked;
    return accuracy_options(count, arguments, "tidemark-strands", &asked) ? run(&asked) : 2;
}
