/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tidemark-finding [-v] [-k] [-f FIRST] [-n COUNT] FOLDER: draws COUNT photographs with a target and half as
 * many without one (200 and 100, from number 0), all with clutter, lets the target be searched for, and
 * prints how often it was found and how far its corners are off. Exit 0 when it is found in 98 of 100, never
 * where there is none, and its corners lie within 2 px; 1 when not, 2 when something can't be drawn or read.
 */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "accuracy.h"
#include "draw.h"

static const double least_found = 0.98, most_px = 2;

typedef struct counts {
    size_t with, found, off, without, mistaken;
    double worst, sum;
} counts;

static void draw_target(draw *from, json_t *sets, bool head)
{
    char text[96];
    const double width = head ? draw_even(from, 60, 105) : draw_even_log(from, 45, 180);
    const double x = head ? draw_even(from, 325, 337) : draw_even(from, 115, 285);
    const double y = head ? draw_even(from, 60, 66) : draw_even(from, 110, 190);
    (void)snprintf(text, sizeof text, "[%.1f, %.1f]", x, y);
    set_word(sets, "target.at_mm", text);
    set_number(sets, "target.width_mm", width);
    set_number(sets, "target.turn_deg",
               head ? draw_even(from, -25, 25) + 180 * (draw_bits(from) % 2) : draw_even(from, -180, 180));
    set_number(sets, "target.tilt_deg", draw_even(from, 0, 30));
    set_number(sets, "target.tilt_axis_deg", draw_even(from, 0, 180));
    if (draw_chance(from, 0.1))
        set_word(sets, "target.mirrored", "true");
}

static void draw_faults(draw *from, json_t *sets)
{
    char text[64];
    if (draw_chance(from, 0.3)) {
        set_number(sets, "target.shade.share", draw_even(from, 0.2, 0.5));
        set_number(sets, "target.shade.from", draw_even(from, 0.3, 0.8));
        set_number(sets, "target.shade.turn_deg", draw_even(from, 0, 360));
    }
    if (draw_chance(from, 0.3)) {
        (void)snprintf(text, sizeof text, "[%u]", draw_bits(from) % 24 + 1);
        set_word(sets, "target.dirt", text);
    }
    if (draw_chance(from, 0.3)) {
        (void)snprintf(text, sizeof text, "[%u]", draw_bits(from) % 24 + 1);
        set_word(sets, "target.glare", text);
    }
}

static json_t *draw_scene(unsigned number, const char *name, bool target)
{
    static const char *const sizes[] = {"[1200, 900]", "[2000, 1500]", "[3200, 2400]"};
    draw from = draw_start(number);
    json_t *sets = json_array();
    const bool head = draw_chance(&from, 0.3);
    set_number(sets, "seed", number + 5000);
    set_word(sets, "size", sizes[draw_bits(&from) % 3]);
    set_word(sets, head ? "quick" : "only", head ? "true" : "swatches");
    set_number(sets, "clutter.amount", draw_even(&from, 0.3, 1));
    set_number(sets, "clutter.seed", number);
    draw_light(&from, sets, 0.3);
    draw_camera(&from, sets);
    set_word(sets, "marks.target", target ? "true" : "false");
    if (!head) { /* they have fixed places, which the target may need */
        set_word(sets, "marks.grey", "false");
        set_word(sets, "marks.scale", "false");
    }
    if (target) {
        set_word(sets, "target.in_marks", "false");
        draw_target(&from, sets, head);
        draw_faults(&from, sets);
    }
    return json_pack("{s:s, s:o}", "name", name, "set", sets);
}

/* Largest distance of a corner; NaN where the truth has none. */
static double corner_error(const char *folder, const char *name, const double corners[8])
{
    char path[4200];
    json_error_t why;
    double worst = 0;
    (void)snprintf(path, sizeof path, "%s/%s.truth.json", folder, name);
    json_t *truth = json_load_file(path, 0, &why);
    const json_t *list = json_object_get(json_object_get(truth, "target"), "corners");
    if (json_array_size(list) != 4)
        worst = NAN;
    for (size_t i = 0; i < 4 && !isnan(worst); i++) {
        const json_t *corner = json_array_get(list, i);
        worst = fmax(worst, hypot(json_number_value(json_array_get(corner, 0)) - corners[2 * i],
                                  json_number_value(json_array_get(corner, 1)) - corners[2 * i + 1]));
    }
    json_decref(truth);
    return worst;
}

/* Whether there is one is told by the error's code: a target that was found but can't be fitted has a place
 * of its own in the text, and counts as found nowhere. */
static bool search(const char *folder, const char *name, bool target, bool verbose, counts *into)
{
    char photo[4200];
    tdm_target_reading *reading = NULL;
    tdm_target_facts facts;
    tdm_error error = {0};
    (void)snprintf(photo, sizeof photo, "%s/%s.jpg", folder, name);
    const tdm_code code = tdm_read_target(photo, NULL, NULL, &reading, &error);
    if (code != TDM_OK && code != TDM_ERR_UNUSABLE) {
        fprintf(stderr, "%s: %s: %s\n", error.file, error.place, error.text);
        return false;
    }
    *(target ? &into->with : &into->without) += 1;
    double off = NAN;
    if (code == TDM_OK) {
        tdm_target_about(reading, &facts);
        off = target ? corner_error(folder, name, facts.corners) : NAN;
        *(target ? &into->found : &into->mistaken) += 1;
    }
    if (isfinite(off)) {
        into->sum += off;
        into->worst = fmax(into->worst, off);
        into->off += off > most_px;
    }
    if (verbose && (code == TDM_OK) != target)
        printf("%s: %s: %s\n", name, target ? "not found" : "mistaken", error.text);
    if (verbose && off > most_px)
        printf("%s: corners off by %.2f px, confidence %.2f\n", name, off, facts.confidence);
    tdm_target_reading_free(reading);
    return true;
}

static bool one(const accuracy_run *asked, const char *base, unsigned number, bool target, counts *into)
{
    char name[64];
    (void)snprintf(name, sizeof name, "%s-%u", target ? "target" : "none", number);
    json_t *scene = draw_scene(target ? number : number + 100000, name, target);
    const bool good = scene && accuracy_render(scene, base, asked->folder, name) &&
                      search(asked->folder, name, target, asked->verbose, into);
    json_decref(scene);
    if (!asked->kept)
        accuracy_remove(asked->folder, name);
    return good;
}

/* Exit status: see the top. */
static int run(const accuracy_run *asked)
{
    counts found = {0};
    char base[4200];
    if (!accuracy_base(json_object(), asked->folder, base))
        return 2;
    for (unsigned i = asked->first; i < asked->first + asked->count; i++) {
        if (!one(asked, base, i, true, &found) || (i % 2 == 0 && !one(asked, base, i, false, &found)))
            return 2;
    }
    printf("| with a target | found | corners off, mean | worst | beyond %g px | without | mistaken |\n",
           most_px);
    printf("|---|---|---|---|---|---|---|\n| %zu | %zu | %.2f px | %.2f px | %zu | %zu | %zu |\n", found.with,
           found.found, found.sum / (double)found.found, found.worst, found.off, found.without,
           found.mistaken);
    return (double)found.found >= least_found * (double)found.with && found.mistaken == 0 && found.off == 0
               ? 0
               : 1;
}

int main(int count, char **arguments)
{
    accuracy_run asked;
    return accuracy_options(count, arguments, "tidemark-finding", &asked) ? run(&asked) : 2;
}
