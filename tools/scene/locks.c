/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Hair in locks: strands that wave, shade and shine together. Drawn from the deepest to the topmost. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "drawing.h"

enum { LAYERS = 6 };
static const double turn = 6.283185307179586;

static double soft(double x)
{
    const double t = fmin(1, fmax(0, x));
    return t * t * (3 - 2 * t);
}

/* The soft dark that a lock throws on those beneath it. */
static void throw_shadow(scn_hand *hand, const scn_lock *lock)
{
    const scn_strand middle = {.u = lock->centre + 0.08 * lock->width,
                               .wisp = lock->centre + 0.08 * lock->width,
                               .start = 0,
                               .length = lock->length - 6,
                               .width = lock->width * 1.7,
                               .ripple_length = 50,
                               .opacity = 0,
                               .sheen = 0};
    const size_t count = scn_knots_of(hand, lock, &middle);
    for (size_t i = 0; i < count; i++) {
        const double s = (double)i * scn_knot_step(hand->scene);
        hand->knots[i].alpha =
            (float)(0.45 * hand->scene->shading * soft(s / 50) * soft((middle.length - s) / 30));
        hand->knots[i].half = (float)(0.5 * middle.width * hand->scene->px_mm);
    }
    scn_canvas_shadow(hand->canvas, hand->knots, count);
}

/* What the strands of a wisp, a bundle of a few dozen, have in common. */
typedef struct {
    double u, half, lean, drift, ripple, ripple_length, ripple_phase, brightness, sheen_turn, sheen, length,
        tint;
} wisp;

static wisp wisp_start(scn_hand *hand, const scn_lock *lock, double across)
{
    scn_random *r = &hand->random;
    const scn_scene *scene = hand->scene;
    /* What would hang beside the head lies back on it. */
    const double u = lock->centre + across * 0.5 * lock->width, over = fmax(-u, u - scene->span);
    return (wisp){over > 0 ? u + copysign(1.3 * over, lock->centre - u) : u,
                  0.55 * exp(0.4 * scn_normal(r)),
                  scene->drift * 0.9 * scn_normal(r),
                  scene->drift * 1.5 * scn_normal(r),
                  scene->drift * 0.5 * fabs(scn_normal(r)),
                  scn_uniform(r, 35, 95),
                  scn_uniform(r, 0, turn),
                  exp(0.24 * scene->shading * scn_normal(r)),
                  4 * scn_normal(r),
                  exp(0.45 * scn_normal(r)),
                  4 * scn_normal(r) - 22 * pow(scn_uniform(r, 0, 1), 4),
                  scn_normal(r)};
}

/* Of the strands of a wisp an even share: with 0.125 each eighth. */
static bool strays(double share, size_t i)
{
    return floor((double)(i + 1) * share) > floor((double)i * share);
}

static void draw_wisp(scn_hand *hand, const scn_lock *lock, const wisp *w, size_t count)
{
    const scn_scene *scene = hand->scene;
    const scn_kind kind = scn_paint_kind(hand->paint, w->u);
    for (size_t i = 0; i < count; i++) {
        const double across = scn_uniform(&hand->random, -1, 1) * (1.15 - 0.5 * (double)i / (double)count);
        scn_strand strand = scn_strand_start(hand, lock, w->u + across * w->half);
        strand.wisp = w->u;
        strand.wisp_across = across;
        /* Lights are woven in by wisps; a few strands stray. */
        if (!strays(scene->lights.stray, i))
            strand.paint.kind = kind;
        strand.drift = w->drift + 0.45 * strand.drift;
        strand.lean = w->lean + scene->drift * 0.3 * scn_normal(&hand->random);
        strand.ripple = w->ripple + 0.25 * strand.ripple;
        strand.ripple_length = w->ripple_length;
        strand.ripple_phase = w->ripple_phase + 0.6 * scn_normal(&hand->random);
        strand.brightness *= w->brightness;
        strand.sheen *= w->sheen;
        strand.sheen_turn += w->sheen_turn;
        strand.length = fmax(10, strand.length + w->length);
        /* Half of the variance of a strand's colour is its wisp's. */
        strand.paint.tint = 0.70710678 * (strand.paint.tint + scene->texture_l * w->tint);
        scn_draw_strand(hand, lock, &strand);
    }
}

void scn_draw_lock(scn_hand *hand, scn_lock *lock)
{
    const scn_scene *scene = hand->scene;
    const double fibre = fmax(scn_fibre_px(scene) / scene->px_mm, 0.078);
    const size_t wisps = (size_t)fmax(3, round(lock->width / 0.75));
    const size_t each = (size_t)fmax(2, round(lock->width / fibre * scene->density / (double)wisps));
    if (scene->shading > 0 && lock->depth > 0.1)
        throw_shadow(hand, lock);
    for (size_t i = 0; i < wisps; i++) {
        /* Edges first, so that the crown of the lock lies on top; the edge is ragged. */
        const double reach = fmin(1, 1.3 - 0.75 * (double)i / (double)wisps);
        const double ragged = exp(0.12 * scn_normal(&hand->random));
        const wisp w = wisp_start(hand, lock, scn_uniform(&hand->random, -1, 1) * reach * ragged);
        draw_wisp(hand, lock, &w, each);
    }
}

static scn_lock lock_at(scn_hand *hand, double centre, double width, double depth)
{
    scn_random *r = &hand->random;
    const scn_scene *scene = hand->scene;
    /* Short waves would run out of step with their neighbours' too soon. */
    const double apart = scene->wave_jitter, stretch = 0.10 * apart * fmin(1, scene->wavelength / 80);
    return (scn_lock){centre,
                      width,
                      depth,
                      scene->wave * (0.75 + apart * 0.25 * scn_normal(r)),
                      scene->wavelength * exp(stretch * scn_normal(r)),
                      turn * centre / scn_wave_period(scene) + apart * 0.35 * scn_normal(r),
                      scene->course.lock_jitter * scn_normal(r),
                      scene->length + 5 * scn_normal(r) + 4 * (1 - depth),
                      exp(0.26 * scene->shading * scn_normal(r)),
                      4.0 * scn_normal(r),
                      scene->melt.on ? scene->melt.lock_jitter * scn_normal(&hand->melt_random) : 0};
}

static void draw_layer(scn_hand *hand, int layer)
{
    const double depth = (double)layer / (LAYERS - 1);
    double u = -scn_uniform(&hand->random, 0, 8);
    while (u < hand->scene->span) {
        const double width = 9.0 * exp(0.38 * scn_normal(&hand->random));
        const double centre = fmin(fmax(u + 0.5 * width, 1), hand->scene->span - 1);
        scn_lock lock = lock_at(hand, centre, width * 1.35, depth * scn_uniform(&hand->random, 0.75, 1.0));
        scn_draw_lock(hand, &lock);
        u += width;
    }
}

bool scn_draw_hair(const scn_scene *scene, const scn_flow *flow, const scn_paint *paint, scn_canvas *canvas)
{
    const size_t room = (size_t)ceil(scene->length * 1.5 / scn_knot_step(scene)) + 64;
    scn_hand hand = {scene,
                     flow,
                     paint,
                     canvas,
                     scn_random_start(scene->seed, 23),
                     scn_random_start(scene->seed, 29),
                     scn_random_start(scene->seed, 31),
                     NULL,
                     room};
    hand.knots = calloc(room, sizeof *hand.knots);
    if (!hand.knots)
        return scn_fail("hair", "out of memory");
    scn_draw_crown(&hand);
    scn_draw_undercoat(&hand);
    for (int layer = 0; layer < LAYERS; layer++)
        draw_layer(&hand, layer);
    scn_draw_parting(scene, flow, canvas);
    scn_draw_flyaways(&hand);
    free(hand.knots);
    return true;
}
