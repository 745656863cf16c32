/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Hair that isn't of a lock: the undercoat that closes gaps, the far side above the parting, flyaways. */
#include <math.h>

#include "drawing.h"

static const double turn = 6.283185307179586;

void scn_draw_undercoat(scn_hand *hand)
{
    const scn_scene *scene = hand->scene;
    for (double u = 0; u <= scene->span; u += 0.8) {
        const scn_lock lock = {u,
                               4,
                               0,
                               scene->wave * 0.7,
                               scene->wavelength,
                               turn * u / scn_wave_period(scene),
                               0,
                               scene->length - 24,
                               0.9,
                               0,
                               0};
        scn_strand strand = scn_strand_start(hand, &lock, u);
        strand.width = 1.9;
        strand.opacity = 1;
        strand.paint.white = scene->white.share; /* as broad as many hairs */
        strand.start = -0.8;
        strand.drift = 0;
        scn_draw_strand(hand, &lock, &strand);
    }
}

/* How far the head rises above the parting, by the place from -1 to 1 along it. */
static double crown_height(double side)
{
    return 24 * pow(fmax(0, 1 - pow(fabs(side), 2.4)), 0.6) + 2;
}

/* A strand of the far side: from the parting up and over, seen foreshortened. */
static size_t over_the_top(scn_hand *hand, double u, double height, double lean_mm, const scn_strand *strand,
                           double dim)
{
    const scn_scene *scene = hand->scene;
    const scn_point root = scn_flow_at(hand->flow, u, -2.6), down = scn_flow_at(hand->flow, u, 7.4);
    const double scale = scene->px_mm, ux = (root.x - down.x) / 10, uy = (root.y - down.y) / 10;
    const size_t count = 24;
    scn_tint_memo memo = {0, 0};
    for (size_t i = 0; i < count && i < hand->knot_room; i++) {
        const double t = (double)i / (double)(count - 1), up = height * sin(t * 1.5708), s = t * 26;
        const double w = scn_paint_progress(hand->paint, &strand->paint, s), aside = lean_mm * t * t;
        const scn_xyz base = scn_paint_base(hand->paint, &strand->paint, SCN_BEYOND, s, w);
        const scn_xyz xyz = scn_paint_tinted(hand->paint, &strand->paint, base, &memo);
        scn_knot *k = &hand->knots[i];
        *k = (scn_knot){.half = (float)(0.5 * strand->width * scale), .alpha = (float)strand->opacity};
        k->x = (float)((root.x + ux * up - uy * aside) * scale - (double)hand->canvas->left);
        k->y = (float)((root.y + uy * up + ux * aside) * scale - (double)hand->canvas->top);
        for (int c = 0; c < 3; c++)
            k->value.v[c] = (float)xyz.v[c];
        k->value.v[SCN_SHADE] =
            (float)(dim * strand->brightness * (1 - scene->shading * (0.5 * t * t * t + 0.7 * exp(-t * 14))));
        k->value.v[SCN_SHEEN] = (float)(scene->gloss * 0.025 * strand->sheen * t * (1 - t) * 4);
        scn_knot_kind(k, strand->paint.kind);
        k->value.v[SCN_PROGRESS] = (float)w;
        k->more.v[SCN_CAST] = 1;
        scn_more_colour(&k->more, base, strand->paint.kind != SCN_DARK);
    }
    return count;
}

/* Skin that shows between the hair of the two sides. */
static void draw_scalp(scn_hand *hand)
{
    const scn_scene *scene = hand->scene;
    const scn_xyz skin = scn_xyz_of((scn_lab){{52, 11, 16}});
    const size_t count = 40;
    for (size_t i = 0; i < count && i < hand->knot_room; i++) {
        const scn_point p = scn_flow_at(hand->flow, scene->span * (double)i / (double)(count - 1), -2.0);
        scn_knot *k = &hand->knots[i];
        *k = (scn_knot){.half = (float)(1.35 * scene->px_mm), .alpha = 1};
        k->x = (float)(p.x * scene->px_mm - (double)hand->canvas->left);
        k->y = (float)(p.y * scene->px_mm - (double)hand->canvas->top);
        for (int c = 0; c < 3; c++)
            k->value.v[c] = (float)skin.v[c];
        k->value.v[SCN_SHADE] = 1;
        k->more.v[SCN_CAST] = 1;
        scn_more_colour(&k->more, scn_paint_ends(hand->paint, 0).root[0], false);
    }
    scn_canvas_strand(hand->canvas, hand->knots, count);
}

/* Broad strands under the crown's fine ones, so that the wall doesn't show through. */
static void draw_crown_ground(scn_hand *hand)
{
    const double span = hand->scene->span;
    for (double u = 0; u <= span; u += 0.8) {
        const scn_lock lock = {u, 8, 0.5, 0, 100, 0, 0, hand->scene->length, 1, 0, 0};
        scn_strand strand = scn_strand_start(hand, &lock, u);
        strand.width = 1.8;
        strand.opacity = 1;
        strand.paint.white = hand->scene->white.share;
        strand.sheen = 0;
        strand.paint.gap = false;
        const size_t knots = over_the_top(hand, u, crown_height(2 * u / span - 1) - 0.5,
                                          -3 * (2 * u / span - 1), &strand, 1 - 0.3 * hand->scene->shading);
        scn_canvas_strand(hand->canvas, hand->knots, knots);
    }
}

void scn_draw_crown(scn_hand *hand)
{
    const scn_scene *scene = hand->scene;
    scn_random *r = &hand->random;
    const double fibre = fmax(scn_fibre_px(scene) / scene->px_mm, 0.08);
    const size_t count = (size_t)(scene->span / fibre * (scene->quick ? 2.5 : 4));
    draw_crown_ground(hand);
    draw_scalp(hand);
    for (size_t i = 0; i < count; i++) {
        const double u = scn_uniform(r, 0, scene->span), side = 2 * u / scene->span - 1;
        const scn_lock lock = {u, 8, 0.5, 0, 100, 0, 0, scene->length, 1, 0, 0};
        scn_strand strand = scn_strand_start(hand, &lock, u);
        const bool stray = scn_uniform(r, 0, 1) < 0.012 * scene->flyaways;
        const double rise = crown_height(side);
        const double height = rise + (stray ? 1.6 * fabs(scn_normal(r)) : 0.12 * scn_normal(r));
        const double dim = 1 + scene->shading * (-0.25 + 0.12 * sin(u / 3.7) + 0.1 * sin(u / 1.3 + 1));
        strand.start = -4;
        strand.paint.gap = false;
        const size_t knots = over_the_top(hand, u, height, -3 * side + 1.2 * scn_normal(r), &strand, dim);
        scn_canvas_strand(hand->canvas, hand->knots, knots);
    }
}

void scn_draw_flyaways(scn_hand *hand)
{
    const scn_scene *scene = hand->scene;
    scn_random *r = &hand->random;
    const size_t count = (size_t)lround(170 * scene->flyaways);
    for (size_t i = 0; i < count; i++) {
        const double u = scn_uniform(r, -1, scene->span + 1);
        const scn_lock lock = {u,
                               6,
                               1,
                               scene->wave * scn_uniform(r, 0.4, 1.6),
                               scene->wavelength * scn_uniform(r, 0.7, 1.4),
                               scn_uniform(r, 0, turn),
                               scene->course.lock_jitter * scn_normal(r),
                               scene->length * scn_uniform(r, 0.6, 1.02),
                               1,
                               6 * scn_normal(r),
                               0};
        scn_strand strand = scn_strand_start(hand, &lock, u);
        strand.drift = 5.5 * scn_normal(r);
        strand.ripple = 0.9 * fabs(scn_normal(r));
        strand.across = 0;
        strand.opacity = 0.75;
        strand.width = fmax(0.07, 0.6 / scene->px_mm);
        scn_draw_strand(hand, &lock, &strand);
    }
}
