/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What lies over the course's colour: spots that product has run to, and the melt over all; and how the line
   runs across the head. */
#include <math.h>

#include "patch.h"

static double falling(double x)
{
    const double t = fmin(1, fmax(0, x));
    return t * t * (3 - 2 * t);
}

/* Both are nought on the mean over the span, so that centre_mm stays the mean. */
static double curve_at(const scn_scene *scene, double u)
{
    const double side = 2 * u / scene->span - 1;
    return scene->course.curve * (1.0 / 3 - side * side);
}

static double zigzag_at(const scn_scene *scene, double u)
{
    const double turns = (u - 0.5 * scene->span) / scene->course.zigzag_period;
    return scene->course.zigzag * (2 * fabs(turns - floor(turns + 0.5)) - 0.5);
}

double scn_course_shift(const scn_scene *scene, double u)
{
    return scene->course.slope * (u - 0.5 * scene->span) + (curve_at(scene, u) + zigzag_at(scene, u));
}

bool scn_course_gap(const scn_scene *scene, double u)
{
    for (size_t i = 0; i < scene->gap_count; i++) {
        if (fabs(u - scene->gaps[i].at) <= 0.5 * scene->gaps[i].width)
            return true;
    }
    return false;
}

static scn_xyz towards(scn_xyz from, scn_xyz to, double share)
{
    for (int k = 0; k < 3; k++)
        from.v[k] += share * (to.v[k] - from.v[k]);
    return from;
}

double scn_spot_share(double at, double width, double from, double length, double u, double s)
{
    const double across = (u - at) / (0.5 * width),
                 along = (s - from) / (0.5 * length) - 1 + 0.25 * scn_mottle(1.4 * u, 0.5 + at);
    return falling((1.25 - hypot(across, along)) / 0.5);
}

/* It lightens, it doesn't darken. */
static scn_xyz with_bleed(const scn_paint *paint, const scn_bleed *bleed, scn_kind kind, double u, double s,
                          scn_xyz xyz)
{
    const double share = scn_spot_share(bleed->at, bleed->width, bleed->from, bleed->length, u, s);
    if (share <= 0)
        return xyz;
    const scn_xyz to = bleed->own ? scn_xyz_of(bleed->colour) : scn_paint_plain(paint, kind, 1);
    return to.v[1] > xyz.v[1] ? towards(xyz, to, share) : xyz;
}

double scn_melt_cover(const scn_melt *melt, double s, double shift)
{
    return melt->on ? 1 - scn_normal_step(s - melt->to - shift, melt->feather) : 0;
}

scn_xyz scn_melted(const scn_paint *paint, scn_xyz xyz, double cover)
{
    return xyz.v[1] > paint->melt.v[1] ? towards(xyz, paint->melt, cover) : xyz;
}

scn_xyz scn_with_layers(const scn_paint *paint, const scn_strand_paint *strand, double u, double s,
                        scn_xyz xyz)
{
    const scn_scene *scene = paint->scene;
    for (size_t i = 0; i < scene->bleed_count; i++)
        xyz = with_bleed(paint, &scene->bleeds[i], strand->kind, u, s, xyz);
    xyz = scn_with_patches(scene, u, s, xyz);
    if (scene->melt.on)
        xyz = scn_melted(paint, xyz, scn_melt_cover(&scene->melt, s, strand->melt_shift));
    return xyz;
}

/* Of light hair of both kinds, in the shares they are asked in. */
static scn_xyz lights_at(const scn_paint *paint, size_t step)
{
    const scn_scene *scene = paint->scene;
    const double second = scene->second_lights.share;
    return second > 0
               ? towards(paint->light[step], paint->second[step], second / (scene->lights.share + second))
               : paint->light[step];
}

/* A share `gap` of the hair has the lengths' colour from the root on. */
scn_ends scn_paint_ends(const scn_paint *paint, double gap)
{
    const scn_scene *scene = paint->scene;
    const bool uniform = scene->course.shape == SCN_UNIFORM;
    scn_ends ends;
    for (size_t p = 0; p < 2; p++) {
        const bool lit = uniform && p && !isfinite(scene->lights.start), dull = uniform && !p;
        const size_t first = lit ? SCN_COURSE_STEPS : 0, last = dull ? 0 : SCN_COURSE_STEPS;
        ends.root[p] = p ? lights_at(paint, first) : paint->dark[first];
        ends.ends[p] = p ? lights_at(paint, last) : paint->dark[last];
        scn_xyz open = ends.ends[p];
        if (scene->melt.on) {
            ends.root[p] = scn_melted(paint, ends.root[p], 1);
            open = scn_melted(paint, open, 1);
        }
        if (gap > 0)
            ends.root[p] = towards(ends.root[p], open, gap);
    }
    return ends;
}
