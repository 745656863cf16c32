/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Keys of lamps, target, cards, swatches and clutter. */
#include <math.h>
#include <string.h>

#include "keys.h"

static scn_lamp read_lamp(const json_t *p, const char *cct, const char *planck, bool *good)
{
    const scn_lamp lamp = {scn_optional(p, cct, 4000, 25000, good),
                           scn_optional(p, planck, 1500, 20000, good)};
    if (isfinite(lamp.cct) && isfinite(lamp.planck))
        *good = scn_fail(cct, "a lamp is either daylight or Planckian");
    return lamp;
}

static bool read_lamps(scn_scene *s)
{
    const json_t *p = s->params;
    bool good = true;
    s->lamp = read_lamp(p, "lamp.cct", "lamp.kelvin_planck", &good);
    s->second_lamp = read_lamp(p, "lamp.second.cct", "lamp.second.kelvin_planck", &good);
    for (size_t i = 0; i < 2; i++)
        s->second_share[i] = scn_element(p, "lamp.second.share", i, 0, 1, &good);
    s->second_turn = scn_number(p, "lamp.second.turn_deg", -360, 360, &good);
    s->spectral = isfinite(s->lamp.cct) || isfinite(s->lamp.planck) || s->second_share[0] > 0 ||
                  s->second_share[1] > 0 || s->camera.sensitivity != SCN_IDEAL;
    return good;
}

/* Patches are counted from 1, dark skin, to 24, black. */
static void read_patches(const json_t *p, const char *path, bool marks[SCN_PATCHES], bool *good)
{
    const size_t count = json_array_size(scn_key(p, path));
    for (size_t i = 0; i < count && i < SCN_PATCHES; i++) {
        const double patch = scn_element(p, path, i, 1, SCN_PATCHES, good);
        if (patch >= 1 && patch <= SCN_PATCHES)
            marks[(size_t)patch - 1] = true;
    }
}

static bool read_target(scn_scene *s)
{
    static const char *const editions[] = {"before-2014", "since-2014", NULL};
    const json_t *p = s->params;
    scn_target *t = &s->held;
    bool good = true;
    t->at = (scn_point){scn_element(p, "target.at_mm", 0, -200, 2200, &good),
                        scn_element(p, "target.at_mm", 1, -200, 2200, &good)};
    t->turn = scn_number(p, "target.turn_deg", -360, 360, &good);
    t->tilt = scn_number(p, "target.tilt_deg", -75, 75, &good);
    t->tilt_axis = scn_number(p, "target.tilt_axis_deg", -360, 360, &good);
    t->width = scn_number(p, "target.width_mm", 5, 1000, &good);
    t->shade = scn_number(p, "target.shade.share", 0, 1, &good);
    t->shade_from = scn_number(p, "target.shade.from", -1, 2, &good);
    t->shade_turn = scn_number(p, "target.shade.turn_deg", -360, 360, &good);
    t->shade_soft = scn_number(p, "target.shade.soft_mm", 0.01, 200, &good);
    t->dirt_amount = scn_number(p, "target.dirt_amount", 0, 1, &good);
    t->glare_amount = scn_number(p, "target.glare_amount", 0, 2, &good);
    read_patches(p, "target.dirt", t->dirt, &good);
    read_patches(p, "target.glare", t->glare, &good);
    t->new_edition = scn_choice(p, "target.edition", editions, &good) == 1;
    t->mirrored = json_is_true(scn_key(p, "target.mirrored"));
    t->in_marks = json_is_true(scn_key(p, "target.in_marks"));
    t->in_marks_width = json_is_true(scn_key(p, "target.in_marks_width"));
    s->scale_in_marks = json_is_true(scn_key(p, "scale.in_marks"));
    s->scale_at = (scn_point){scn_element(p, "scale.at_mm", 0, -200, 2200, &good),
                              scn_element(p, "scale.at_mm", 1, -200, 2200, &good)};
    return good;
}

static bool read_cards(scn_scene *s)
{
    static const char *const keys[] = {"at_mm", "size_mm", "turn_deg", "lstar", "in_marks_width", NULL};
    const json_t *list = json_object_get(s->params, "greys"), *item = NULL;
    bool good = json_array_size(list) <= SCN_MOST_CARDS || scn_fail("greys", "too many");
    size_t i = 0;
    json_array_foreach(list, i, item)
    {
        if (!good || !scn_known_keys(item, "greys", keys))
            return false;
        scn_card *card = &s->cards[s->card_count++];
        *card = (scn_card){.at = {scn_element(item, "at_mm", 0, -200, 2200, &good),
                                  scn_element(item, "at_mm", 1, -200, 2200, &good)},
                           .width = scn_element(item, "size_mm", 0, 2, 1000, &good),
                           .height = scn_element(item, "size_mm", 1, 2, 1000, &good),
                           .lstar = scn_number(item, "lstar", 0, 100, &good),
                           .in_marks_width = json_is_true(json_object_get(item, "in_marks_width"))};
        if (scn_has(item, "turn_deg"))
            card->turn = scn_number(item, "turn_deg", -360, 360, &good);
    }
    return good;
}

/* Where a swatch has no place of its own: rows of six, in the left two thirds of the standard field. */
static scn_point own_place(size_t i)
{
    return (scn_point){36 + 43 * (double)(i % 6), 66 + 84 * (double)(i / 6)};
}

static scn_swatch read_swatch(const json_t *item, size_t i, bool *good)
{
    scn_swatch out = {
        .level = NAN, .name = scn_text(item, "name"), .at = own_place(i), .width = 30, .height = 70};
    if (scn_has(item, "level"))
        out.level = scn_number(item, "level", 0, 12, good);
    if (scn_has(item, "lab"))
        out.lab = (scn_lab){{scn_element(item, "lab", 0, 0, 100, good),
                             scn_element(item, "lab", 1, -128, 128, good),
                             scn_element(item, "lab", 2, -128, 128, good)}};
    else
        out.lab = scn_melanin(scn_number(item, "level", 0, 12, good),
                              scn_has(item, "warmth") ? scn_number(item, "warmth", 0, 1, good) : 0.15);
    if (scn_has(item, "at_mm"))
        out.at = (scn_point){scn_element(item, "at_mm", 0, -200, 2200, good),
                             scn_element(item, "at_mm", 1, -200, 2200, good)};
    if (scn_has(item, "size_mm")) {
        out.width = scn_element(item, "size_mm", 0, 5, 400, good);
        out.height = scn_element(item, "size_mm", 1, 5, 400, good);
    }
    if (scn_has(item, "turn_deg"))
        out.turn = scn_number(item, "turn_deg", -360, 360, good);
    return out;
}

static bool read_swatches(scn_scene *s)
{
    static const char *const keys[] = {"level", "warmth",  "lab",      "name",
                                       "at_mm", "size_mm", "turn_deg", NULL};
    const json_t *list = json_object_get(s->params, "swatches"), *item = NULL;
    bool good = json_array_size(list) <= SCN_MOST_SWATCHES || scn_fail("swatches", "too many");
    size_t i = 0;
    json_array_foreach(list, i, item)
    {
        if (!good || !scn_known_keys(item, "swatches", keys))
            return false;
        s->swatches[s->swatch_count++] = read_swatch(item, i, &good);
    }
    return good;
}

bool scn_read_held(scn_scene *s)
{
    static const char *const onlies[] = {"flat", "swatches", NULL};
    const json_t *p = s->params;
    bool good = read_lamps(s) && read_target(s) && read_cards(s) && read_swatches(s);
    if (!good)
        return false;
    if (!json_is_null(scn_key(p, "only")))
        s->only = (scn_only)(1 + scn_choice(p, "only", onlies, &good));
    s->quick = json_is_true(scn_key(p, "quick"));
    s->clutter = scn_number(p, "clutter.amount", 0, 1, &good);
    s->clutter_seed = (uint64_t)scn_number(p, "clutter.seed", 0, 9e15, &good);
    s->flat_lstar = scn_number(p, "flat.lstar", 1, 100, &good);
    if (s->only != SCN_ONLY_ALL)
        s->zone_count = 0;
    return good;
}
