/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The truth, from what was drawn before the camera: body colour under its shading, without reflections or
 * uneven light. */
#include <math.h>
#include <stdlib.h>

#include "grey.h"
#include "truth.h"

enum { ROOT, MID, ENDS, OVERALL, PARTS };
static const double bin_mm = 0.5, column_mm = 4;

typedef struct {
    double v[4]; /* X Y Z, and the cover they are of */
} tally;

typedef struct {
    tally parts[PARTS];
    scn_mix_sums mix;
    scn_course_sums course;
    scn_way_sums ways;
    scn_runs runs;
    scn_grey_sums grey;
    double bare; /* cover that lacks */
} zone_sums;

static bool sums_make(zone_sums *sums, const scn_zone *zone)
{
    const size_t bins = (size_t)lround(zone->length / bin_mm);
    *sums = (zone_sums){
        .mix = {.bins = bins, .bin_mm = bin_mm},
        .course = {.bins = bins, .columns = (size_t)ceil(zone->width / bin_mm), .bin_mm = bin_mm}};
    sums->mix.rows = calloc(bins * SCN_MIX, sizeof(double));
    sums->course.sums = calloc(sums->course.bins * sums->course.columns * 8, sizeof(double));
    return sums->mix.rows && sums->course.sums && scn_ways_make(&sums->ways, zone);
}

static void sums_free(zone_sums *sums)
{
    free(sums->mix.rows);
    free(sums->course.sums);
    scn_ways_free(&sums->ways);
    scn_runs_free(&sums->runs);
}

static void add(double *to, const double *xyz, double cover)
{
    for (int k = 0; k < 3; k++)
        to[k] += cover * xyz[k];
    to[3] += cover;
}

/* Where the picture carries colour without texture, the two populations' parts are known apart. */
static void add_plain(double *to, const scn_more *more, double cover, double light)
{
    for (int k = 0; k < 3; k++) {
        to[k] += (double)more->v[SCN_PLAIN + k];
        to[4 + k] += (double)more->v[SCN_PLAIN_LIGHT + k];
    }
    to[3] += fmax(0, cover - light);
    to[7] += light;
}

static double edge_of(const scn_zone *zone)
{
    return fmin(0.1 * zone->length, 20);
}

static void add_pixel(zone_sums *sums, const scn_paint *paint, const scn_zone *zone, const scn_pixel *pixel,
                      const scn_more *more, double second, double cover, double s, double t)
{
    const double edge = edge_of(zone), third = zone->length / 3;
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
    const scn_kind population = light > 0.5 ? SCN_FIRST : SCN_DARK;
    scn_add_mix(&sums->mix, bin, body, light, second / cover, cover);
    double *plain = sums->course.sums + (bin * sums->course.columns + column) * 8;
    if (more)
        add_plain(plain, more, cover, (double)pixel->v[SCN_LIGHT]);
    else
        add(plain + 4 * population, scn_paint_plain(paint, population, w).v, cover);
}

static void gather(zone_sums *sums, const scn_paint *paint, const scn_zone *zone, const scn_path *path,
                   const scn_canvas *canvas)
{
    const scn_scene *scene = paint->scene;
    const bool slants = scene->sweep != 0 || zone->turn != 0 || fabs(scene->turn) > 20;
    const double reach = (1.5 * path->half_mm + (slants ? 0.3 * zone->length : 0)) * path->px_mm;
    for (size_t y = 0; y < canvas->height; y++) {
        size_t hint =
            (size_t)fmin((double)path->count - 2, fmax(0, ((double)(y + canvas->top) - path->path[0].y) /
                                                              path->px_mm / path->step_mm));
        for (size_t x = 0; x < canvas->width; x++) {
            const size_t at = scn_canvas_at(canvas, x, y);
            double s = 0, t = 0;
            /* What is far to the side is outside. */
            if (fabs((double)(x + canvas->left) - path->path[hint].x) > reach)
                continue;
            if (!scn_path_place(path, (double)(x + canvas->left) + 0.5, (double)(y + canvas->top) + 0.5,
                                &hint, &s, &t))
                continue;
            const double cover = (double)canvas->cover[at];
            sums->bare += 1 - cover;
            if (canvas->ways)
                scn_add_way(&sums->ways, path, canvas->ways[at], s, -t);
            if (cover > 0.05 && canvas->more && s < fmin(0.1 * zone->length, 20))
                scn_add_grey(&sums->grey, &canvas->more[at], cover);
            if (cover > 0.05)
                add_pixel(sums, paint, zone, &canvas->pixels[at],
                          scn_carries_plain(scene) ? &canvas->more[at] : NULL,
                          canvas->ways ? (double)canvas->ways[at].second : 0, cover, s, t);
        }
    }
}

scn_lab scn_lab_of_sum(const double sum[4])
{
    scn_xyz xyz = {{0, 0, 0}};
    for (int k = 0; k < 3 && sum[3] > 0; k++)
        xyz.v[k] = sum[k] / sum[3];
    return scn_lab_of(xyz);
}

json_t *scn_lab_json(scn_lab lab)
{
    return json_pack("[f, f, f]", lab.v[0], lab.v[1], lab.v[2]);
}

static json_t *part_json(const tally *part)
{
    const scn_lab lab = scn_lab_of_sum(part->v);
    return json_pack("{s:o, s:f}", "lab", scn_lab_json(lab), "level", scn_level_of(lab.v[0]));
}

json_t *scn_number_json(double value)
{
    return isfinite(value) ? json_real(value) : json_null();
}

static const char *shape_of(scn_shape shape)
{
    static const char *const words[] = {"uniform", "ramp", "transition", "band"};
    return words[shape];
}

/* A melt over hair of one colour makes a transition of it. */
static scn_shape shape_seen(const scn_scene *scene)
{
    return scene->course.shape == SCN_UNIFORM && scene->melt.on ? SCN_TRANSITION : scene->course.shape;
}

static json_t *zone_json(const scn_scene *scene, const scn_paint *paint, const scn_zone *zone,
                         const zone_sums *sums)
{
    double local = NAN, stagger = NAN;
    const double share = scn_unmixed(&sums->mix, (scn_stretch){0, zone->length}).share;
    const scn_shape shape = shape_seen(scene);
    const bool turns = shape == SCN_TRANSITION, falls = turns || shape == SCN_RAMP;
    const scn_ends ends = scn_paint_ends(paint, scn_gap_share(scene, zone)),
                   line_ends = scn_paint_ends(paint, 0);
    const scn_fall fall =
        falls ? scn_fall_of(&ends, &sums->course, 0, sums->course.columns, share) : (scn_fall){NAN, NAN};
    if (turns && !scn_columns_of(&line_ends, &sums->course, column_mm, &local, &stagger))
        local = stagger = NAN;
    const double below = turns && isfinite(fall.centre + fall.width) ? fall.centre + 0.5 * fall.width : 0;
    const scn_stretch parts[4] = {{0, edge_of(zone)},
                                  {zone->length / 3, zone->length * 2 / 3},
                                  {zone->length - edge_of(zone), zone->length},
                                  {below, zone->length}};
    return json_pack("{s:s, s:f, s:f, s:o, s:o, s:o, s:o, s:{s:s, s:o, s:o}, s:{s:o, s:o}, s:o, s:f}", "name",
                     zone->name, "length_mm", zone->length, "width_mm", zone->width, "root",
                     part_json(&sums->parts[ROOT]), "mid", part_json(&sums->parts[MID]), "ends",
                     part_json(&sums->parts[ENDS]), "overall", part_json(&sums->parts[OVERALL]), "gradient",
                     "shape", shape_of(shape), "centre_mm", scn_number_json(fall.centre + zone->from),
                     "width_mm", scn_number_json(fall.width), "demarcation", "local_width_mm",
                     scn_number_json(local), "stagger_mm", scn_number_json(stagger), "strands",
                     scn_strands_json(scene, &sums->mix, &sums->ways, &sums->runs, parts), "bare_share",
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
        scn_ways_even(&sums.ways);
        if (!canvas->ways || scn_runs_make(&sums.runs, zone, &path, &sums.ways, canvas))
            out = zone_json(scene, paint, zone, &sums);
        if (zone->from > 0)
            (void)json_object_set_new(out, "from_mm", json_real(zone->from));
        if (!scn_tell_line(out, scene, flow, paint, zone, &path) || !scn_tell_grey(out, scene, &sums.grey)) {
            json_decref(out);
            out = NULL;
        }
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
