/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "drawing.h"
#include "grey.h"

/* 10 to 90 % rise of a normal distribution function, in standard deviations. */
static const double rise = 2.5631031310892007;

double scn_normal_step(double from, double width)
{
    return width <= 0 ? (from >= 0 ? 1 : 0) : 0.5 * erfc(-from / (width / rise) * 0.70710678118654752);
}

static scn_lab between(scn_lab a, scn_lab b, double w)
{
    scn_lab out;
    for (int i = 0; i < 3; i++)
        out.v[i] = a.v[i] + w * (b.v[i] - a.v[i]);
    return out;
}

void scn_paint_make(scn_paint *paint, const scn_scene *scene)
{
    paint->scene = scene;
    for (size_t i = 0; i <= SCN_COURSE_STEPS; i++) {
        const double w = (double)i / SCN_COURSE_STEPS;
        paint->dark[i] = scn_xyz_of(between(scene->natural, scene->old, w));
        paint->light[i] = scn_xyz_of(between(scene->natural, scene->light, w));
        paint->second[i] = scn_xyz_of(between(scene->natural, scene->second_lights.colour, w));
    }
    paint->band = scn_xyz_of(scene->band);
    paint->melt = scn_xyz_of(scene->melt.colour);
    paint->white = scn_xyz_of(scene->white.colour);
    scn_paint_place(paint);
}

static double own_start(const scn_scene *scene, bool light)
{
    return light && isfinite(scene->lights.start) ? scene->lights.start : scene->course.centre;
}

static double own_width(const scn_scene *scene, bool light)
{
    return light && isfinite(scene->lights.width) ? scene->lights.width : scene->course.width;
}

double scn_paint_progress(const scn_paint *paint, const scn_strand_paint *strand, double s)
{
    const scn_scene *scene = paint->scene;
    const scn_course *course = &scene->course;
    const bool light = strand->kind != SCN_DARK, own = light && isfinite(scene->lights.start);
    if (strand->gap)
        return 1;
    if (own || course->shape == SCN_TRANSITION)
        return scn_normal_step(s - own_start(scene, light) - strand->shift, own_width(scene, light));
    if (course->shape == SCN_RAMP)
        return fmin(1, fmax(0, s / scene->length));
    if (course->shape == SCN_BAND)
        return scn_normal_step(s - course->band_to - strand->shift, course->band_edge);
    return light ? 1 : 0;
}

scn_xyz scn_paint_plain(const scn_paint *paint, scn_kind kind, double w)
{
    const scn_xyz *const tables[] = {paint->dark, paint->light, paint->second}, *table = tables[kind];
    const double place = fmin(1, fmax(0, w)) * SCN_COURSE_STEPS;
    const size_t i = (size_t)fmin(place, SCN_COURSE_STEPS - 1);
    const double part = place - (double)i;
    scn_xyz out;
    for (int k = 0; k < 3; k++)
        out.v[k] = table[i].v[k] + part * (table[i + 1].v[k] - table[i].v[k]);
    return out;
}

static scn_xyz with_band(const scn_paint *paint, const scn_strand_paint *strand, double s, double w,
                         scn_xyz base)
{
    const scn_course *course = &paint->scene->course;
    const double entered = scn_normal_step(s - course->band_from - strand->shift, course->band_edge);
    const double share = entered * (1 - w);
    for (int k = 0; k < 3; k++)
        base.v[k] += share * (paint->band.v[k] - base.v[k]);
    return base;
}

scn_xyz scn_paint_base(const scn_paint *paint, const scn_strand_paint *strand, double u, double s, double w)
{
    scn_xyz xyz = scn_with_white(paint, strand, w, scn_paint_plain(paint, strand->kind, w));
    if (paint->scene->course.shape == SCN_BAND)
        xyz = with_band(paint, strand, s, w, xyz);
    return scn_with_layers(paint, strand, u, s, xyz);
}

scn_xyz scn_paint_tinted(const scn_paint *paint, const scn_strand_paint *strand, scn_xyz xyz,
                         scn_tint_memo *memo)
{
    if (strand->tint == 0)
        return xyz;
    /* Lightness varies from strand to strand; the mean light of many stays that of the plain colour. */
    if (xyz.v[1] != memo->y || memo->scale <= 0) {
        const double root = cbrt(fmax(xyz.v[1], 1e-6)), sigma = paint->scene->texture_l / 116;
        memo->y = xyz.v[1];
        memo->scale =
            pow(fmax(0, 1 + strand->tint / 116 / root), 3) / (1 + 3 * sigma * sigma / (root * root));
    }
    for (int k = 0; k < 3; k++)
        xyz.v[k] *= memo->scale;
    return xyz;
}
