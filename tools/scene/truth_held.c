/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The truth of what is held beside the hair: only in scenes that use a key of the extras. */
#include <math.h>

#include "drawing.h"
#include "light.h"

static json_t *lab_json(scn_lab lab)
{
    return json_pack("[f, f, f]", lab.v[0], lab.v[1], lab.v[2]);
}

static json_t *patches_json(const scn_scene *scene)
{
    json_t *list = json_array();
    for (size_t i = 0; i < SCN_PATCHES; i++) {
        const scn_lab lab = scn_patch_lab(scene->held.new_edition, i);
        (void)json_array_append_new(list, lab_json(lab));
    }
    return list;
}

static json_t *marked_json(const bool marks[SCN_PATCHES])
{
    json_t *list = json_array();
    for (int i = 0; i < SCN_PATCHES; i++) {
        if (marks[i])
            (void)json_array_append_new(list, json_integer(i + 1));
    }
    return list;
}

static json_t *target_json(const scn_scene *scene, const scn_places *places)
{
    const scn_target *t = &scene->held;
    return json_pack("{s:o, s:f, s:f, s:b, s:s, s:f, s:o, s:o, s:o}", "corners",
                     scn_corners_json(places->target), "turn_deg", remainder(t->turn, 360), "tilt_deg",
                     t->tilt, "mirrored", t->mirrored, "edition",
                     t->new_edition ? "since-2014" : "before-2014", "width_mm", t->width, "dirt",
                     marked_json(t->dirt), "glare", marked_json(t->glare), "patches", patches_json(scene));
}

static json_t *greys_json(const scn_scene *scene, const scn_places *places)
{
    json_t *list = json_array();
    for (size_t i = 0; i < scene->card_count; i++)
        (void)json_array_append_new(list,
                                    json_pack("{s:o, s:f}", "polygon", scn_corners_json(places->cards[i]),
                                              "lstar", scene->cards[i].lstar));
    return list;
}

static json_t *swatches_json(const scn_scene *scene, const scn_places *places)
{
    json_t *list = json_array();
    for (size_t i = 0; i < scene->swatch_count; i++) {
        const scn_swatch *s = &scene->swatches[i];
        json_t *level = isfinite(s->level) ? json_real(s->level) : json_null();
        (void)json_array_append_new(list, json_pack("{s:o, s:o, s:o}", "level", level, "polygon",
                                                    scn_corners_json(places->swatches[i]), "lab",
                                                    lab_json(places->swatch_labs[i])));
    }
    return list;
}

/* The share of the second lamp at the picture's corners, from the top left one clockwise. */
static json_t *shares_json(const scn_scene *scene)
{
    const double w = (double)scene->width, h = (double)scene->height;
    return json_pack("[f, f, f, f]", scn_light_share(scene, 0, 0), scn_light_share(scene, w, 0),
                     scn_light_share(scene, w, h), scn_light_share(scene, 0, h));
}

bool scn_tell_held(json_t *truth, const scn_scene *scene, const scn_places *places)
{
    bool good = true;
    if (!scn_params_beyond(scene))
        return true;
    if (scene->only == SCN_ONLY_FLAT)
        return json_object_set_new(truth, "flat", json_pack("{s:f}", "lstar", scene->flat_lstar)) == 0;
    if (scene->target)
        good = good && json_object_set_new(truth, "target", target_json(scene, places)) == 0;
    if (scene->card_count > 0)
        good = good && json_object_set_new(truth, "greys", greys_json(scene, places)) == 0;
    if (scene->swatch_count > 0)
        good = good && json_object_set_new(truth, "swatches", swatches_json(scene, places)) == 0;
    if (scene->spectral)
        good = good && json_object_set_new(truth, "second_share", shares_json(scene)) == 0;
    return good;
}
