/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tidemark-scene SCENE.json OUTBASE: draws a photograph of an invented head, its marks and its truth. */
#include <popt.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "drawing.h"

enum { MOST_SETS = 256, MOST_PATH = 4096 };

typedef struct {
    scn_flow flow;
    scn_paint *paint;
    scn_canvas canvas;
    scn_image image;
    scn_places places;
    uint16_t *upright, *stored;
} work;

static bool draw_head(work *w, const scn_scene *scene)
{
    scn_paint_make(w->paint, scene);
    if (!scn_backdrop(&w->image, scene) || !scn_canvas_make(&w->canvas, scene, &w->flow))
        return false;
    scn_clutter(&w->image, scene, &w->canvas);
    return scn_draw_hair(scene, &w->flow, w->paint, &w->canvas) && scn_shade_level(&w->canvas, scene) &&
           scn_lay_hair(&w->image, scene, &w->canvas) && scn_props(&w->image, scene, &w->places);
}

static bool draw(work *w, const scn_scene *scene)
{
    w->paint = malloc(sizeof *w->paint);
    w->image =
        (scn_image){calloc(3 * scene->width * scene->height, sizeof(float)), scene->width, scene->height};
    if (!w->paint || !w->image.xyz || !scn_flow_make(&w->flow, scene))
        return scn_fail("size", "out of memory");
    if (scene->only == SCN_ONLY_ALL)
        return draw_head(w, scene);
    scn_backdrop_flat(&w->image, scene->only == SCN_ONLY_FLAT ? scene->flat_lstar : 74);
    if (scene->only == SCN_ONLY_FLAT)
        return true;
    scn_clutter(&w->image, scene, NULL);
    return scn_props(&w->image, scene, &w->places);
}

static bool take(work *w, const scn_scene *scene, const char *path)
{
    size_t width = scene->width, height = scene->height;
    if (!scn_camera_take(&w->image, scene, &w->upright))
        return false;
    w->stored = scn_camera_store(w->upright, scene->camera.orientation, &width, &height);
    if (!w->stored)
        return scn_fail("size", "out of memory");
    return scene->camera.png ? scn_write_png(path, scene, w->stored, width, height)
                             : scn_write_jpeg(path, scene, w->stored, width, height);
}

static void tidy(work *w)
{
    scn_flow_free(&w->flow);
    scn_canvas_free(&w->canvas);
    free(w->paint);
    free(w->image.xyz);
    free(w->upright);
    free(w->stored);
}

static bool make(const scn_scene *scene, const char *base)
{
    char photo[MOST_PATH], marks[MOST_PATH], truth[MOST_PATH];
    const char *ending = scene->camera.png ? "png" : "jpg";
    if (strlen(base) + 16 > MOST_PATH)
        return scn_fail(base, "name too long");
    (void)snprintf(photo, sizeof photo, "%s.%s", base, ending);
    (void)snprintf(marks, sizeof marks, "%s.marks.json", base);
    (void)snprintf(truth, sizeof truth, "%s.truth.json", base);
    const char *slash = strrchr(photo, '/');
    work w = {0};
    /* A flat field has nothing to mark. */
    const bool good = draw(&w, scene) &&
                      (scene->only == SCN_ONLY_FLAT ||
                       scn_write_marks(marks, slash ? slash + 1 : photo, scene, &w.flow, &w.places)) &&
                      scn_write_truth(truth, scene, &w.flow, w.paint, &w.canvas, &w.places) &&
                      take(&w, scene, photo);
    tidy(&w);
    return good;
}

/* Collects --set and --seed as sets, in their order. */
static bool read_options(poptContext options, const char **sets, size_t *count)
{
    int code = 0;
    while ((code = poptGetNextOpt(options)) > 0) {
        char *value = poptGetOptArg(options);
        if (*count == MOST_SETS || !value)
            return scn_fail("--set", "too many");
        char *set = value;
        if (code == 's') {
            set = malloc(strlen(value) + 6);
            if (set)
                (void)snprintf(set, strlen(value) + 6, "seed=%s", value);
            free(value);
        }
        if (!set)
            return scn_fail("--seed", "out of memory");
        sets[(*count)++] = set;
    }
    return code == -1 || scn_fail(poptBadOption(options, POPT_BADOPTION_NOALIAS), poptStrerror(code));
}

static int run(poptContext options)
{
    const char *sets[MOST_SETS];
    size_t count = 0;
    scn_scene scene = {0};
    int code = 2;
    if (read_options(options, sets, &count)) {
        const char **names = poptGetArgs(options);
        if (!names || !names[0] || !names[1] || names[2])
            poptPrintUsage(options, stderr, 0);
        else {
            code = scn_scene_load(&scene, names[0], sets, count) ? 0 : 3;
            if (code == 0 && !make(&scene, names[1]))
                code = 4;
        }
    }
    for (size_t i = 0; i < count; i++)
        free((void *)(uintptr_t)sets[i]);
    scn_scene_free(&scene);
    return code;
}

int main(int argc, const char **argv)
{
    const struct poptOption table[] = {
        {"seed", 0, POPT_ARG_STRING, NULL, 's', "another head of the same kind", "N"},
        {"set", 0, POPT_ARG_STRING, NULL, 'k', "set a value of the scene, as camera.exposure_ev=0.5",
         "KEY=VALUE"},
        POPT_AUTOHELP POPT_TABLEEND};
    poptContext options = poptGetContext("tidemark-scene", argc, argv, table, 0);
    if (!options)
        return 4;
    poptSetOtherOptionHelp(options, "[OPTION...] SCENE.json OUTBASE");
    const int code = run(options);
    poptFreeContext(options);
    return code;
}
