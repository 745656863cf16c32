/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "keys.h"

scn_lab scn_body(const json_t *params, const char *name, bool *good)
{
    char path[64];
    (void)snprintf(path, sizeof path, "%s.lab", name);
    if (!json_is_null(scn_key(params, path)))
        return (scn_lab){{scn_element(params, path, 0, 0, 100, good),
                          scn_element(params, path, 1, -128, 128, good),
                          scn_element(params, path, 2, -128, 128, good)}};
    (void)snprintf(path, sizeof path, "%s.level", name);
    const double level = scn_number(params, path, 0, 12, good);
    (void)snprintf(path, sizeof path, "%s.warmth", name);
    return scn_melanin(level, scn_number(params, path, 0, 1, good));
}

static bool read_second_lights(scn_scene *s)
{
    static const char *const spacings[] = {"random", "regular", NULL};
    const json_t *p = s->params;
    bool good = true;
    s->second_lights = (scn_second_lights){
        scn_number(p, "lights2.share", 0, 1, &good), scn_number(p, "lights2.ribbon_mm", 0.5, 100, &good),
        scn_choice(p, "lights2.spacing", spacings, &good) == 1, scn_body(p, "lights2", &good)};
    if (s->second_lights.share > 0 && s->lights.share <= 0)
        good = scn_fail("lights2.share", "there are no first lights");
    if (s->second_lights.share > 0 && s->second_lights.share + s->lights.share > 0.95)
        good = scn_fail("lights2.share", "with the first lights' leaves too little other hair");
    return good;
}

static bool read_hair(scn_scene *s)
{
    static const char *const shapes[] = {"uniform", "ramp", "transition", "band", NULL};
    static const char *const spacings[] = {"random", "regular", NULL};
    const json_t *p = s->params;
    bool good = true;
    s->natural = scn_body(p, "natural", &good);
    s->old = scn_body(p, "old", &good);
    s->band = scn_body(p, "band", &good);
    s->light = scn_body(p, "light", &good);
    s->course = (scn_course){(scn_shape)scn_choice(p, "course.shape", shapes, &good),
                             scn_number(p, "course.centre_mm", -50, 400, &good),
                             scn_number(p, "course.width_mm", 0, 400, &good),
                             scn_number(p, "course.jitter_mm", 0, 100, &good),
                             scn_number(p, "course.lock_jitter_mm", 0, 100, &good),
                             scn_number(p, "course.slope", -2, 2, &good),
                             scn_number(p, "band.from_mm", -50, 400, &good),
                             scn_number(p, "band.to_mm", -50, 400, &good),
                             scn_number(p, "band.edge_mm", 0, 200, &good),
                             scn_number(p, "course.curve_mm", -200, 200, &good),
                             scn_number(p, "course.zigzag_mm", 0, 100, &good),
                             scn_number(p, "course.zigzag_period_mm", 2, 400, &good)};
    s->lights = (scn_lights){scn_number(p, "light.share", 0, 1, &good),
                             scn_number(p, "light.ribbon_mm", 0.5, 100, &good),
                             scn_optional(p, "light.start_mm", -50, 400, &good),
                             scn_optional(p, "light.width_mm", 0, 400, &good),
                             scn_choice(p, "light.spacing", spacings, &good) == 1,
                             scn_number(p, "light.stray", 0, 1, &good)};
    s->texture_l = scn_number(p, "texture_l", 0, 15, &good);
    s->shading = scn_number(p, "shading", 0, 1, &good);
    s->shading_fall = scn_number(p, "shading_fall", -0.9, 0.9, &good);
    s->gloss = scn_number(p, "gloss", 0, 1, &good);
    s->length = scn_number(p, "hair.length_mm", 80, 400, &good);
    s->span = scn_number(p, "hair.span_mm", 40, 400, &good);
    s->wave = scn_number(p, "hair.wave_mm", 0, 20, &good);
    s->wavelength = scn_number(p, "hair.wavelength_mm", 20, 1000, &good);
    s->flyaways = scn_number(p, "hair.flyaways", 0, 10, &good);
    s->density = scn_number(p, "hair.density", 0.2, 4, &good);
    s->drift = scn_number(p, "hair.drift", 0, 5, &good);
    s->wave_jitter = scn_number(p, "hair.wave_jitter", 0, 3, &good);
    s->clump = scn_number(p, "hair.clump", 0, 0.8, &good);
    return good;
}

static bool read_camera(scn_scene *s)
{
    static const char *const profiles[] = {"srgb", "display-p3", "none", NULL};
    static const char *const formats[] = {"jpeg", "png", NULL}, *const samplings[] = {"4:4:4", "4:2:2",
                                                                                      "4:2:0", NULL};
    static const char *const sensitivities[] = {"ideal", "real", "real-b", NULL};
    static const int sampling_numbers[] = {444, 422, 420};
    const json_t *p = s->params;
    bool good = true;
    scn_camera *c = &s->camera;
    c->exposure_ev = scn_number(p, "camera.exposure_ev", -6, 6, &good);
    for (size_t i = 0; i < 3; i++)
        c->white_balance[i] = scn_element(p, "camera.white_balance", i, 0.1, 10, &good);
    c->tone = scn_number(p, "camera.tone", 0, 1, &good);
    c->noise = scn_number(p, "camera.noise", 0, 20, &good);
    c->blur_px = scn_number(p, "camera.blur_px", 0, 30, &good);
    c->uneven = scn_number(p, "camera.uneven", 0, 1, &good);
    c->profile = (scn_profile)scn_choice(p, "camera.profile", profiles, &good);
    c->quality = (int)scn_number(p, "camera.quality", 1, 100, &good);
    c->subsampling = sampling_numbers[scn_choice(p, "camera.subsampling", samplings, &good)];
    c->orientation = (int)scn_number(p, "camera.orientation", 1, 8, &good);
    c->png = scn_choice(p, "camera.format", formats, &good) == 1;
    c->bits = (int)scn_number(p, "camera.bits", 8, 16, &good);
    c->taken = scn_text(p, "camera.taken");
    c->sensitivity = (scn_sensitivity_kind)scn_choice(p, "camera.sensitivity", sensitivities, &good);
    c->motion_px = scn_number(p, "camera.motion_px", 0, 60, &good);
    c->motion_deg = scn_number(p, "camera.motion_deg", -360, 360, &good);
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
        const char *name = scn_text(zone, "name");
        s->zones[s->zone_count++] =
            (scn_zone){name,
                       scn_text(zone, "side"),
                       scn_number(zone, "at_mm", 0, 400, &good),
                       scn_number(zone, "width_mm", 4, 400, &good),
                       scn_number(zone, "length_mm", 10, 400, &good),
                       scn_has(zone, "from_mm") ? scn_number(zone, "from_mm", 0, 400, &good) : 0,
                       scn_has(zone, "turn_deg") ? scn_number(zone, "turn_deg", -45, 45, &good) : 0};
        good = good && name && name[0];
    }
    return good || scn_fail("zones", "each needs a name, at_mm, width_mm and length_mm");
}

static bool read_picture(scn_scene *s)
{
    const json_t *p = s->params;
    bool good = true;
    s->width = (size_t)scn_element(p, "size", 0, 200, 20000, &good);
    s->height = (size_t)scn_element(p, "size", 1, 150, 20000, &good);
    const double across = scn_element(p, "field_mm", 0, 50, 2000, &good),
                 down = scn_element(p, "field_mm", 1, 50, 2000, &good);
    s->seed = (uint64_t)scn_number(p, "seed", 0, 9e15, &good);
    s->dx = scn_number(p, "pose.dx_mm", -100, 100, &good);
    s->dy = scn_number(p, "pose.dy_mm", -100, 100, &good);
    s->turn = scn_number(p, "pose.turn_deg", -45, 45, &good);
    s->target = json_is_true(scn_key(p, "marks.target"));
    s->grey = json_is_true(scn_key(p, "marks.grey"));
    s->scale = json_is_true(scn_key(p, "marks.scale"));
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
    return good && read_hair(scene) && read_second_lights(scene) && read_camera(scene) && read_zones(scene) &&
           read_picture(scene) && scn_read_line(scene) && scn_read_held(scene);
}

void scn_scene_free(scn_scene *scene)
{
    json_decref(scene->params);
    scene->params = NULL;
}
