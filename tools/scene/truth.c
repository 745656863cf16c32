/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The truth, from what was drawn before the camera: body colour under its shading, without reflections or
 * uneven light. */
#include <math.h>
#include <stdlib.h>

#include "drawing.h"

enum { ROOT, MID, ENDS, OVERALL, PARTS };
enum { MIX = 9 };
static const double bin_mm = 0.5, column_mm = 4;

typedef struct {
    double v[4]; /* X Y Z, and the cover they are of */
} tally;

typedef struct {
    tally parts[PARTS];
    double *rows; /* bins x MIX: moments of the share of light hair in a pixel, for unmixing */
    scn_course_sums course;
    double bare; /* cover that lacks */
} zone_sums;

static bool sums_make(zone_sums *sums, const scn_zone *zone)
{
    *sums = (zone_sums){.course = {.bins = (size_t)lround(zone->length / bin_mm),
                                   .columns = (size_t)ceil(zone->width / bin_mm),
                                   .bin_mm = bin_mm}};
    sums->rows = calloc(sums->course.bins * MIX, sizeof(double));
    sums->course.sums = calloc(sums->course.bins * sums->course.columns * 8, sizeof(double));
    return sums->rows && sums->course.sums;
}

static void sums_free(zone_sums *sums)
{
    free(sums->rows);
    free(sums->course.sums);
}

static void add(double *to, const double *xyz, double cover)
{
    for (int k = 0; k < 3; k++)
        to[k] += cover * xyz[k];
    to[3] += cover;
}

/* A pixel holds light hair and other hair in the shares f and 1 - f. */
static void add_mix(double *to, const double *xyz, double f, double cover)
{
    to[0] += cover * f * f;
    to[1] += cover * f * (1 - f);
    to[2] += cover * (1 - f) * (1 - f);
    for (int k = 0; k < 3; k++) {
        to[3 + k] += cover * f * xyz[k];
        to[6 + k] += cover * (1 - f) * xyz[k];
    }
}

static void add_pixel(zone_sums *sums, const scn_paint *paint, const scn_zone *zone, const scn_pixel *pixel,
                      double cover, double s, double t)
{
    const double edge = fmin(0.1 * zone->length, 20), third = zone->length / 3;
    const double shade = (double)pixel->v[SCN_SHADE] / cover, light = (double)pixel->v[SCN_LIGHT] / cover;
    const double w = (double)pixel->v[SCN_PROGRESS] / cover;
    double body[3];
    for (int k = 0; k < 3; k++)
        body[k] = (double)pixel->v[SCN_X + k] / cover * shade;
    const bool in[PARTS] = {s < edge, s >= third && s < 2 * third, s >= zone->length - edge, true};
    for (int part = 0; part < PARTS; part++) {
        if (in[part])
            add(sums->parts[part].v, body, cover);
    }
    const size_t bin = (size_t)fmin(s / bin_mm, (double)sums->course.bins - 1);
    const size_t column = (size_t)fmin((t + 0.5 * zone->width) / bin_mm, (double)sums->course.columns - 1);
    const size_t population = light > 0.5;
    add_mix(sums->rows + bin * MIX, body, light, cover);
    add(sums->course.sums + ((bin * sums->course.columns + column) * 2 + population) * 4,
        scn_paint_plain(paint, population, w).v, cover);
}

static void gather(zone_sums *sums, const scn_paint *paint, const scn_zone *zone, const scn_path *path,
                   const scn_canvas *canvas)
{
    for (size_t y = 0; y < canvas->height; y++) {
        size_t hint =
            (size_t)fmin((double)path->count - 2, fmax(0, ((double)(y + canvas->top) - path->path[0].y) /
                                                              path->px_mm / path->step_mm));
        for (size_t x = 0; x < canvas->width; x++) {
            const size_t at = scn_canvas_at(canvas, x, y);
            double s = 0, t = 0;
            /* The fall is steep, so what is far to the side is outside. */
            if (fabs((double)(x + canvas->left) - path->path[hint].x) > 1.5 * path->half_mm * path->px_mm)
                continue;
            if (!scn_path_place(path, (double)(x + canvas->left) + 0.5, (double)(y + canvas->top) + 0.5,
                                &hint, &s, &t))
                continue;
            const double cover = (double)canvas->cover[at];
            sums->bare += 1 - cover;
            if (cover > 0.05)
                add_pixel(sums, paint, zone, &canvas->pixels[at], cover, s, t);
        }
    }
}

static scn_lab lab_of(const double sum[4])
{
    scn_xyz xyz = {{0, 0, 0}};
    for (int k = 0; k < 3 && sum[3] > 0; k++)
        xyz.v[k] = sum[k] / sum[3];
    return scn_lab_of(xyz);
}

static json_t *lab_json(scn_lab lab)
{
    return json_pack("[f, f, f]", lab.v[0], lab.v[1], lab.v[2]);
}

static json_t *part_json(const tally *part)
{
    const scn_lab lab = lab_of(part->v);
    return json_pack("{s:o, s:f}", "lab", lab_json(lab), "level", scn_level_of(lab.v[0]));
}

static json_t *number(double value)
{
    return isfinite(value) ? json_real(value) : json_null();
}

/* The least-squares colours of the two populations, and the light one's share of the visible area. */
typedef struct {
    double share;
    scn_lab light, dark;
    double seen; /* contrast in L* of pixels as they are, each weighted by its share of the one and of the
                    other */
    bool both;
} mixture;

static mixture unmixed(const zone_sums *sums, double from_mm)
{
    double m[MIX] = {0};
    for (size_t bin = (size_t)fmax(0, ceil(from_mm / bin_mm)); bin < sums->course.bins; bin++)
        for (size_t k = 0; k < MIX; k++)
            m[k] += sums->rows[bin * MIX + k];
    const double det = m[0] * m[2] - m[1] * m[1], all = m[0] + 2 * m[1] + m[2];
    mixture mix = {.share = (m[0] + m[1]) / fmax(all, 1e-9), .both = det > 1e-6 * all * all};
    scn_xyz light = {{0, 0, 0}}, dark = light;
    const scn_xyz seen_light = {{0, m[4] / fmax(m[0] + m[1], 1e-9), 0}},
                  seen_dark = {{0, m[7] / fmax(m[2] + m[1], 1e-9), 0}};
    mix.seen = scn_lab_of(seen_light).v[0] - scn_lab_of(seen_dark).v[0];
    for (size_t k = 0; mix.both && k < 3; k++) {
        light.v[k] = (m[3 + k] * m[2] - m[6 + k] * m[1]) / det;
        dark.v[k] = (m[6 + k] * m[0] - m[3 + k] * m[1]) / det;
    }
    mix.light = scn_lab_of(light);
    mix.dark = scn_lab_of(dark);
    return mix;
}

static double spacing_of(const scn_scene *scene)
{
    return scene->lights.share > 0 ? scene->lights.ribbon / scene->lights.share : NAN;
}

static json_t *strands_json(const scn_scene *scene, const zone_sums *sums, double from_mm)
{
    static const char form[] = "{s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:o}";
    const mixture mix = unmixed(sums, from_mm);
    if (scene->lights.share <= 0 || !mix.both)
        return json_pack(form, "light_share", json_null(), "light_lab", json_null(), "dark_lab", json_null(),
                         "contrast_lstar", json_null(), "contrast_de00", json_null(), "ribbon_mm",
                         json_null(), "spacing_mm", json_null(), "seen_contrast_lstar", json_null());
    return json_pack(form, "light_share", number(mix.share), "light_lab", lab_json(mix.light), "dark_lab",
                     lab_json(mix.dark), "contrast_lstar", number(mix.light.v[0] - mix.dark.v[0]),
                     "contrast_de00", number(scn_de00(mix.light, mix.dark)), "ribbon_mm",
                     number(scene->lights.ribbon), "spacing_mm", number(spacing_of(scene)),
                     "seen_contrast_lstar", number(mix.seen));
}

static const char *shape_of(scn_shape shape)
{
    static const char *const words[] = {"uniform", "ramp", "transition", "band"};
    return words[shape];
}

static json_t *zone_json(const scn_scene *scene, const scn_paint *paint, const scn_zone *zone,
                         const zone_sums *sums)
{
    double local = NAN, stagger = NAN;
    const double share = unmixed(sums, 0).share;
    const bool falls = scene->course.shape == SCN_TRANSITION || scene->course.shape == SCN_RAMP;
    const bool turns = scene->course.shape == SCN_TRANSITION;
    const scn_fall fall =
        falls ? scn_fall_of(paint, &sums->course, 0, sums->course.columns, share) : (scn_fall){NAN, NAN};
    if (turns && !scn_columns_of(paint, &sums->course, column_mm, &local, &stagger))
        local = stagger = NAN;
    const double below = turns && isfinite(fall.centre + fall.width) ? fall.centre + 0.5 * fall.width : 0;
    return json_pack("{s:s, s:f, s:f, s:o, s:o, s:o, s:o, s:{s:s, s:o, s:o}, s:{s:o, s:o}, s:o, s:f}", "name",
                     zone->name, "length_mm", zone->length, "width_mm", zone->width, "root",
                     part_json(&sums->parts[ROOT]), "mid", part_json(&sums->parts[MID]), "ends",
                     part_json(&sums->parts[ENDS]), "overall", part_json(&sums->parts[OVERALL]), "gradient",
                     "shape", shape_of(scene->course.shape), "centre_mm", number(fall.centre), "width_mm",
                     number(fall.width), "demarcation", "local_width_mm", number(local), "stagger_mm",
                     number(stagger), "strands", strands_json(scene, sums, below), "bare_share",
                     sums->bare / fmax(1, sums->bare + sums->parts[OVERALL].v[3]));
}

static json_t *one_zone(const scn_scene *scene, const scn_flow *flow, const scn_paint *paint,
                        const scn_canvas *canvas, const scn_zone *zone)
{
    zone_sums sums;
    scn_path path = {0};
    json_t *out = NULL;
    if (sums_make(&sums, zone) && scn_path_make(&path, scene, flow, zone)) {
        gather(&sums, paint, zone, &path, canvas);
        out = zone_json(scene, paint, zone, &sums);
    }
    scn_path_free(&path);
    sums_free(&sums);
    return out;
}

bool scn_write_truth(const char *path, const scn_scene *scene, const scn_flow *flow, const scn_paint *paint,
                     const scn_canvas *canvas, const scn_places *places)
{
    json_t *zones = json_array();
    bool good = zones != NULL;
    for (size_t i = 0; good && i < scene->zone_count; i++)
        good = json_array_append_new(zones, one_zone(scene, flow, paint, canvas, &scene->zones[i])) == 0;
    json_t *truth =
        json_pack("{s:i, s:o, s:o}", "tidemark_truth", 1, "zones", zones, "params", scn_params_told(scene));
    good = good && truth && scn_tell_held(truth, scene, places) &&
           json_dump_file(truth, path, JSON_INDENT(1) | JSON_REAL_PRECISION(6)) == 0;
    json_decref(truth);
    return good || scn_fail(path, "can't be made or written");
}
