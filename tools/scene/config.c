/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "scene.h"

bool scn_fail(const char *place, const char *what)
{
    fprintf(stderr, "tidemark-scene: %s: %s\n", place, what);
    return false;
}

static const json_t *find(const json_t *params, const char *path)
{
    char part[64];
    while (params && *path) {
        const size_t length = strcspn(path, ".");
        if (length >= sizeof part)
            return NULL;
        memcpy(part, path, length);
        part[length] = '\0';
        params = json_object_get(params, part);
        path += path[length] ? length + 1 : length;
    }
    return params;
}

/* `good` falls where the value isn't a number in range. */
static double number(const json_t *params, const char *path, double low, double high, bool *good)
{
    const json_t *value = find(params, path);
    const double number = json_number_value(value);
    if (!json_is_number(value) || !(number >= low && number <= high))
        *good = scn_fail(path, "not a number in range");
    return number;
}

/* NaN where the key holds null. */
static double optional(const json_t *params, const char *path, double low, double high, bool *good)
{
    return json_is_null(find(params, path)) ? NAN : number(params, path, low, high, good);
}

static const char *text(const json_t *params, const char *path)
{
    return json_string_value(find(params, path));
}

/* The place of the text in the list of words, or -1 with a complaint. */
static int choice(const json_t *params, const char *path, const char *const *words, bool *good)
{
    const char *value = text(params, path);
    for (int i = 0; value && words[i]; i++) {
        if (strcmp(value, words[i]) == 0)
            return i;
    }
    *good = scn_fail(path, "not one of the words it may be");
    return 0;
}

static double element(const json_t *params, const char *path, size_t i, double low, double high, bool *good)
{
    const json_t *value = json_array_get(find(params, path), i);
    const double number = json_number_value(value);
    if (!json_is_number(value) || !(number >= low && number <= high))
        *good = scn_fail(path, "holds a number that is missing or out of range");
    return number;
}

static scn_lab body(const json_t *params, const char *name, bool *good)
{
    char path[64];
    (void)snprintf(path, sizeof path, "%s.lab", name);
    if (!json_is_null(find(params, path)))
        return (scn_lab){{element(params, path, 0, 0, 100, good), element(params, path, 1, -128, 128, good),
                          element(params, path, 2, -128, 128, good)}};
    (void)snprintf(path, sizeof path, "%s.level", name);
    const double level = number(params, path, 0, 12, good);
    (void)snprintf(path, sizeof path, "%s.warmth", name);
    return scn_melanin(level, number(params, path, 0, 1, good));
}

static bool read_hair(scn_scene *s)
{
    static const char *const shapes[] = {"uniform", "ramp", "transition", "band", NULL};
    static const char *const spacings[] = {"random", "regular", NULL};
    const json_t *p = s->params;
    bool good = true;
    s->natural = body(p, "natural", &good);
    s->old = body(p, "old", &good);
    s->band = body(p, "band", &good);
    s->light = body(p, "light", &good);
    s->course = (scn_course){(scn_shape)choice(p, "course.shape", shapes, &good),
                             number(p, "course.centre_mm", -50, 400, &good),
                             number(p, "course.width_mm", 0, 400, &good),
                             number(p, "course.jitter_mm", 0, 100, &good),
                             number(p, "course.lock_jitter_mm", 0, 100, &good),
                             number(p, "course.slope", -2, 2, &good),
                             number(p, "band.from_mm", -50, 400, &good),
                             number(p, "band.to_mm", -50, 400, &good),
                             number(p, "band.edge_mm", 0, 200, &good)};
    s->lights = (scn_lights){
        number(p, "light.share", 0, 1, &good), number(p, "light.ribbon_mm", 0.5, 100, &good),
        optional(p, "light.start_mm", -50, 400, &good), optional(p, "light.width_mm", 0, 400, &good),
        choice(p, "light.spacing", spacings, &good) == 1};
    s->texture_l = number(p, "texture_l", 0, 15, &good);
    s->shading = number(p, "shading", 0, 1, &good);
    s->shading_fall = number(p, "shading_fall", -0.9, 0.9, &good);
    s->gloss = number(p, "gloss", 0, 1, &good);
    s->length = number(p, "hair.length_mm", 80, 400, &good);
    s->span = number(p, "hair.span_mm", 40, 400, &good);
    s->wave = number(p, "hair.wave_mm", 0, 20, &good);
    s->wavelength = number(p, "hair.wavelength_mm", 20, 1000, &good);
    s->flyaways = number(p, "hair.flyaways", 0, 10, &good);
    s->density = number(p, "hair.density", 0.2, 4, &good);
    s->clump = number(p, "hair.clump", 0, 0.8, &good);
    return good;
}

static bool read_camera(scn_scene *s)
{
    static const char *const profiles[] = {"srgb", "display-p3", "none", NULL};
    static const char *const formats[] = {"jpeg", "png", NULL}, *const samplings[] = {"4:4:4", "4:2:2",
                                                                                      "4:2:0", NULL};
    static const int sampling_numbers[] = {444, 422, 420};
    const json_t *p = s->params;
    bool good = true;
    scn_camera *c = &s->camera;
    c->exposure_ev = number(p, "camera.exposure_ev", -6, 6, &good);
    for (size_t i = 0; i < 3; i++)
        c->white_balance[i] = element(p, "camera.white_balance", i, 0.1, 10, &good);
    c->tone = number(p, "camera.tone", 0, 1, &good);
    c->noise = number(p, "camera.noise", 0, 20, &good);
    c->blur_px = number(p, "camera.blur_px", 0, 30, &good);
    c->uneven = number(p, "camera.uneven", 0, 1, &good);
    c->profile = (scn_profile)choice(p, "camera.profile", profiles, &good);
    c->quality = (int)number(p, "camera.quality", 1, 100, &good);
    c->subsampling = sampling_numbers[choice(p, "camera.subsampling", samplings, &good)];
    c->orientation = (int)number(p, "camera.orientation", 1, 8, &good);
    c->png = choice(p, "camera.format", formats, &good) == 1;
    c->bits = (int)number(p, "camera.bits", 8, 16, &good);
    c->taken = text(p, "camera.taken");
    if (c->taken && strlen(c->taken) != 19)
        good = scn_fail("camera.taken", "give it as YYYY:MM:DD hh:mm:ss");
    if ((c->bits != 8 && c->bits != 16) || (!c->png && c->bits != 8))
        good = scn_fail("camera.bits", "8, or for png 16");
    return good;
}

static bool read_zones(scn_scene *s)
{
    const json_t *list = json_object_get(s->params, "zones"), *zone = NULL;
    bool good = json_array_size(list) <= SCN_MOST_ZONES;
    size_t i = 0;
    json_array_foreach(list, i, zone)
    {
        if (i >= SCN_MOST_ZONES)
            break;
        const char *name = text(zone, "name");
        s->zones[s->zone_count++] =
            (scn_zone){name, text(zone, "side"), number(zone, "at_mm", 0, 400, &good),
                       number(zone, "width_mm", 4, 400, &good), number(zone, "length_mm", 10, 400, &good)};
        good = good && name && name[0];
    }
    return good || scn_fail("zones", "each needs a name, at_mm, width_mm and length_mm");
}

static bool read_picture(scn_scene *s)
{
    static const char *const editions[] = {"before-2014", "since-2014", NULL};
    const json_t *p = s->params;
    bool good = true;
    s->width = (size_t)element(p, "size", 0, 200, 20000, &good);
    s->height = (size_t)element(p, "size", 1, 150, 20000, &good);
    const double across = element(p, "field_mm", 0, 50, 2000, &good),
                 down = element(p, "field_mm", 1, 50, 2000, &good);
    s->seed = (uint64_t)number(p, "seed", 0, 9e15, &good);
    s->dx = number(p, "pose.dx_mm", -100, 100, &good);
    s->dy = number(p, "pose.dy_mm", -100, 100, &good);
    s->turn = number(p, "pose.turn_deg", -45, 45, &good);
    s->target_turn = number(p, "target.turn_deg", -20, 20, &good);
    s->new_edition = choice(p, "target.edition", editions, &good) == 1;
    s->target = json_is_true(find(p, "marks.target"));
    s->grey = json_is_true(find(p, "marks.grey"));
    s->scale = json_is_true(find(p, "marks.scale"));
    if (!good)
        return false;
    s->px_mm = (double)s->width / across;
    if (fabs((double)s->height / down / s->px_mm - 1) > 0.01)
        return scn_fail("field_mm", "isn't in the proportion of size");
    return true;
}

bool scn_scene_load(scn_scene *scene, const char *path, const char *const *sets, size_t set_count)
{
    json_error_t why;
    *scene = (scn_scene){.params = scn_defaults()};
    if (!scene->params)
        return scn_fail(path, "out of memory");
    json_t *file = json_load_file(path, JSON_REJECT_DUPLICATES, &why);
    if (!file)
        return scn_fail(path, why.text);
    bool good =
        json_is_object(file) ? scn_lay_over(scene->params, file) : scn_fail(path, "not a JSON object");
    json_decref(file);
    for (size_t i = 0; good && i < set_count; i++)
        good = scn_lay_set(scene->params, sets[i]);
    return good && read_hair(scene) && read_camera(scene) && read_zones(scene) && read_picture(scene);
}

void scn_scene_free(scn_scene *scene)
{
    json_decref(scene->params);
    scene->params = NULL;
}
