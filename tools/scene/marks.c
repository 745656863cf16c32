/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "drawing.h"

/* A hundredth of a pixel is more than a hand could mark. */
static json_t *rounded(double v)
{
    return json_real(round(v * 100) / 100);
}

static json_t *point(scn_point p)
{
    return json_pack("[o, o]", rounded(p.x), rounded(p.y));
}

json_t *scn_corners_json(const scn_point p[4])
{
    return json_pack("[o, o, o, o]", point(p[0]), point(p[1]), point(p[2]), point(p[3]));
}

static json_t *path_of(const scn_scene *scene, const scn_flow *flow, const scn_zone *zone, bool *inside)
{
    const int pieces = (int)fmax(2, ceil(zone->length / 25));
    json_t *list = json_array();
    for (int i = 0; i <= pieces; i++) {
        scn_point p = scn_zone_at(flow, zone, zone->length * i / pieces);
        p = (scn_point){p.x * scene->px_mm, p.y * scene->px_mm};
        *inside =
            *inside && p.x >= 0 && p.y >= 0 && p.x <= (double)scene->width && p.y <= (double)scene->height;
        (void)json_array_append_new(list, point(p));
    }
    return list;
}

static json_t *zones_of(const scn_scene *scene, const scn_flow *flow, bool *inside)
{
    json_t *list = json_array();
    for (size_t i = 0; i < scene->zone_count; i++) {
        const scn_zone *zone = &scene->zones[i];
        json_t *one = json_pack("{s:s, s:o, s:f}", "name", zone->name, "path",
                                path_of(scene, flow, zone, inside), "width_mm", zone->width);
        if (zone->from > 0)
            (void)json_object_set_new(one, "root_mm", json_real(zone->from));
        if (zone->side)
            (void)json_object_set_new(one, "side", json_string(zone->side));
        (void)json_array_append_new(list, one);
    }
    return list;
}

static json_t *target_of(const scn_scene *scene, const scn_places *places)
{
    json_t *target = json_pack("{s:s, s:o}", "kind", "patch24", "corners", scn_corners_json(places->target));
    if (scene->held.in_marks_width)
        (void)json_object_set_new(target, "width_mm", json_real(scene->held.width));
    return target;
}

static json_t *greys_of(const scn_scene *scene, const scn_places *places)
{
    json_t *list = json_array();
    if (scene->grey)
        (void)json_array_append_new(
            list, json_pack("{s:o, s:f}", "polygon", scn_corners_json(places->grey), "lstar", 50.0));
    for (size_t i = 0; i < scene->card_count; i++) {
        const scn_card *card = &scene->cards[i];
        json_t *one =
            json_pack("{s:o, s:f}", "polygon", scn_corners_json(places->cards[i]), "lstar", card->lstar);
        if (card->in_marks_width)
            (void)json_object_set_new(one, "width_mm", json_real(fmax(card->width, card->height)));
        (void)json_array_append_new(list, one);
    }
    return list;
}

/* Those with a level: the marks file wants one. */
static json_t *swatches_of(const scn_scene *scene, const scn_places *places)
{
    json_t *list = json_array();
    for (size_t i = 0; i < scene->swatch_count; i++) {
        const scn_swatch *swatch = &scene->swatches[i];
        if (!isfinite(swatch->level))
            continue;
        json_t *one =
            json_pack("{s:f, s:o}", "level", swatch->level, "polygon", scn_corners_json(places->swatches[i]));
        if (swatch->name)
            (void)json_object_set_new(one, "name", json_string(swatch->name));
        (void)json_array_append_new(list, one);
    }
    return list;
}

static void add_held(json_t *marks, const scn_scene *scene, const scn_places *places)
{
    if (scene->scale && scene->scale_in_marks)
        (void)json_object_set_new(marks, "scale",
                                  json_pack("{s:o, s:o, s:f}", "from", point(places->scale[0]), "to",
                                            point(places->scale[1]), "mm", 100.0));
    if (scene->target && scene->held.in_marks)
        (void)json_object_set_new(marks, "target", target_of(scene, places));
    if (scene->grey || scene->card_count > 0)
        (void)json_object_set_new(marks, "grey", greys_of(scene, places));
    json_t *swatches = swatches_of(scene, places);
    if (json_array_size(swatches) > 0)
        (void)json_object_set(marks, "swatches", swatches);
    json_decref(swatches);
}

bool scn_write_marks(const char *path, const char *photo, const scn_scene *scene, const scn_flow *flow,
                     const scn_places *places)
{
    bool inside = true;
    json_t *marks = json_pack("{s:i, s:s, s:[I, I]}", "tidemark_marks", 1, "photo", photo, "size",
                              (json_int_t)scene->width, (json_int_t)scene->height);
    add_held(marks, scene, places);
    if (scene->only == SCN_ONLY_ALL)
        (void)json_object_set_new(marks, "zones", zones_of(scene, flow, &inside));
    bool good = inside || scn_fail("zones", "a zone leaves the picture");
    if (good && (!marks || json_dump_file(marks, path, JSON_INDENT(1) | JSON_REAL_PRECISION(10)) < 0))
        good = scn_fail(path, "can't be written");
    json_decref(marks);
    return good;
}
