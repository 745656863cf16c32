/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The truth of the line's course across a zone, as designed, in the zone's own places: mm from the root line,
   and mm across, growing to the right hand of the way from root to ends. */
#include <math.h>

#include "patch.h"

static const double least_mm = 0.5; /* a narrower part of a gap or spot isn't told */

/* Where the hair of u lies at s: mm across; *along from the root line. */
static double across_of(const scn_flow *flow, const scn_zone *zone, const scn_path *path, double u, double s,
                        double *along)
{
    const scn_point p = scn_flow_at(flow, u, s);
    size_t hint = (size_t)fmin(fmax(s - zone->from, 0) / path->step_mm, (double)path->count - 2);
    double t = 0;
    (void)scn_path_place(path, p.x * path->px_mm, p.y * path->px_mm, &hint, along, &t);
    *along += zone->from;
    return -t;
}

static double design_centre(const scn_scene *scene, double u)
{
    return scene->course.centre + scn_course_shift(scene, u);
}

/* The least-squares slope of the line within the zone, mm along a mm across. */
static double slope_of(const scn_scene *scene, const scn_flow *flow, const scn_zone *zone,
                       const scn_path *path)
{
    double n = 0, sx = 0, sy = 0, sxx = 0, sxy = 0;
    for (double u = zone->at - zone->width; u <= zone->at + zone->width; u += 0.25) {
        double along = 0;
        const double across = across_of(flow, zone, path, u, design_centre(scene, u), &along);
        if (fabs(across) > 0.5 * zone->width)
            continue;
        n++;
        sx += across;
        sy += along;
        sxx += across * across;
        sxy += across * along;
    }
    return n > 2 ? (n * sxy - sx * sy) / (n * sxx - sx * sx) : NAN;
}

static json_t *course_json(const scn_scene *scene, const scn_flow *flow, const scn_zone *zone,
                           const scn_path *path)
{
    const scn_course *c = &scene->course;
    const double share = zone->width / scene->span;
    json_t *out = json_pack("{s:s, s:o, s:f}", "shape",
                            c->zigzag > 0   ? "zigzag"
                            : c->curve != 0 ? "curved"
                                            : "straight",
                            "slope", scn_number_json(slope_of(scene, flow, zone, path)), "sagitta_mm",
                            c->curve * share * share);
    if (c->zigzag > 0) {
        (void)json_object_set_new(out, "zigzag_mm", json_real(c->zigzag));
        (void)json_object_set_new(out, "zigzag_period_mm", json_real(c->zigzag_period));
    }
    return out;
}

bool scn_part_of(const scn_flow *flow, const scn_zone *zone, const scn_path *path, double at, double width,
                 double s, scn_part *out)
{
    double along = 0;
    const double a = across_of(flow, zone, path, at - 0.5 * width, s, &along),
                 b = across_of(flow, zone, path, at + 0.5 * width, s, &along), half = 0.5 * zone->width;
    const double low = fmax(-half, fmin(a, b)), high = fmin(half, fmax(a, b));
    (void)across_of(flow, zone, path, at, s, &along);
    *out = (scn_part){along, 0.5 * (low + high), high - low};
    return high - low >= least_mm;
}

static json_t *gaps_json(const scn_scene *scene, const scn_flow *flow, const scn_zone *zone,
                         const scn_path *path)
{
    json_t *list = json_array();
    for (size_t i = 0; i < scene->gap_count; i++) {
        const scn_gap *gap = &scene->gaps[i];
        scn_part at;
        if (scn_part_of(flow, zone, path, gap->at, gap->width, design_centre(scene, gap->at), &at))
            (void)json_array_append_new(list, json_pack("{s:f, s:f, s:f}", "along_mm", at.along, "across_mm",
                                                        at.across, "width_mm", at.width));
    }
    return list;
}

/* L* by which the spot's middle is lighter than the hair would be without it, strands of the other kind. */
static double lift_of(const scn_paint *paint, const scn_bleed *bleed, double s)
{
    const scn_scene *scene = paint->scene;
    const scn_strand_paint strand = {.shift = scn_course_shift(scene, bleed->at),
                                     .gap = scn_course_gap(scene, bleed->at)};
    const double w = scn_paint_progress(paint, &strand, s);
    scn_xyz without = scn_paint_plain(paint, SCN_DARK, w);
    const scn_xyz with = scn_paint_base(paint, &strand, bleed->at, s, w);
    if (scene->melt.on)
        without = scn_melted(paint, without, scn_melt_cover(&scene->melt, s, 0));
    return scn_lab_of(with).v[0] - scn_lab_of(without).v[0];
}

static json_t *bleeds_json(const scn_scene *scene, const scn_flow *flow, const scn_paint *paint,
                           const scn_zone *zone, const scn_path *path)
{
    json_t *list = json_array();
    for (size_t i = 0; i < scene->bleed_count; i++) {
        const scn_bleed *bleed = &scene->bleeds[i];
        const double s = bleed->from + 0.5 * bleed->length;
        scn_part at;
        if (!scn_part_of(flow, zone, path, bleed->at, bleed->width, s, &at) ||
            at.along + 0.5 * bleed->length < zone->from ||
            at.along - 0.5 * bleed->length > zone->from + zone->length)
            continue;
        (void)json_array_append_new(list,
                                    json_pack("{s:f, s:f, s:f, s:f, s:f}", "along_mm", at.along, "across_mm",
                                              at.across, "length_mm", bleed->length, "width_mm", at.width,
                                              "lift_lstar", lift_of(paint, bleed, s)));
    }
    return list;
}

static bool tell_parting(json_t *zone_json, const scn_scene *scene, const scn_flow *flow,
                         const scn_zone *zone, const scn_path *path)
{
    const scn_cast *cast = &scene->cast;
    double along = 0;
    if (!isfinite(cast->parting_at))
        return true;
    const double across =
        across_of(flow, zone, path, cast->parting_at, zone->from + 0.5 * cast->parting_length, &along);
    if (fabs(across) > 0.5 * (zone->width + cast->parting_width) || cast->parting_length <= zone->from)
        return true;
    return json_object_set_new(zone_json, "parting",
                               json_pack("{s:f, s:f, s:f}", "across_mm", across, "width_mm",
                                         cast->parting_width, "length_mm", cast->parting_length)) == 0;
}

double scn_gap_share(const scn_scene *scene, const scn_zone *zone)
{
    double share = 0;
    for (size_t i = 0; i < scene->gap_count; i++) {
        const scn_gap *gap = &scene->gaps[i];
        const double low = fmax(gap->at - 0.5 * gap->width, zone->at - 0.5 * zone->width),
                     high = fmin(gap->at + 0.5 * gap->width, zone->at + 0.5 * zone->width);
        share += fmax(0, high - low) / zone->width;
    }
    return fmin(share, 1);
}

bool scn_tell_line(json_t *zone_json, const scn_scene *scene, const scn_flow *flow, const scn_paint *paint,
                   const scn_zone *zone, const scn_path *path)
{
    const scn_course *c = &scene->course;
    json_t *line = json_object_get(zone_json, "demarcation");
    bool good = tell_parting(zone_json, scene, flow, zone, path) &&
                scn_tell_patches(zone_json, scene, flow, zone, path);
    if (c->curve == 0 && c->zigzag <= 0 && scene->sweep == 0 && scene->gap_count == 0 &&
        scene->bleed_count == 0)
        return good;
    if (c->shape == SCN_TRANSITION)
        good = good && json_object_set_new(line, "course", course_json(scene, flow, zone, path)) == 0 &&
               json_object_set_new(line, "gaps", gaps_json(scene, flow, zone, path)) == 0;
    return good && json_object_set_new(line, "bleeds", bleeds_json(scene, flow, paint, zone, path)) == 0;
}
