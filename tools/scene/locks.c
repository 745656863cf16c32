/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Hair in locks: strands that wave, shade and shine together. Drawn from the deepest to the topmost. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "drawing.h"

enum { LAYERS = 6 };
static const double turn = 6.283185307179586, degree = 3.14159265358979323846 / 180;

/* Apart by this many mm along a strand. */
static double knot_step(const scn_scene *scene)
{
    return scene->quick ? 2.5 : 1.0;
}

double scn_fibre_px(const scn_scene *scene)
{
    return scene->quick ? 1.7 : 0.75;
}

static double soft(double x)
{
    const double t = fmin(1, fmax(0, x));
    return t * t * (3 - 2 * t);
}

/* The mean of the hair's two reflections (Marschner et al. 2003): the white one off the surface leans to the
   root (here by 6 degrees), the coloured one through the fibre leans the other way by 1.5 times that and is
   twice as wide. */
static void reflect(const scn_hand *hand, const scn_lock *lock, const scn_strand *strand, double s,
                    double bend, scn_pixel *value)
{
    const double amount = hand->scene->gloss * strand->sheen;
    if (amount == 0)
        return;
    const double lift =
        62 * degree * exp(-s / 55) - 6 * degree * soft((s - 120) / 100); /* of the fibre, off the film */
    const double half = lift - 17 * degree + bend + (lock->sheen_turn + strand->sheen_turn) * degree;
    const double white = (half - 6 * degree) / (8 * degree), tinted = (half + 9 * degree) / (16 * degree);
    value->v[SCN_SHEEN] = (float)(amount * 0.15 * exp(-0.5 * white * white));
    value->v[SCN_TINTED] = (float)(amount * 0.6 * exp(-0.5 * tinted * tinted));
}

static double shade_at(const scn_hand *hand, const scn_lock *lock, const scn_strand *strand, double s)
{
    const double amount = hand->scene->shading, edge = strand->across * strand->across;
    const double depth = 1 - 0.75 * amount * (1 - lock->depth);
    const double crown = 1 - amount * (0.60 * edge * soft(0.15 + s / 70) - 0.10 * strand->across);
    const double bundle = 1 - 0.32 * amount * strand->wisp_across * strand->wisp_across * soft(0.3 + s / 60);
    const double parting = 1 - 0.5 * amount * (1 - soft((s + 2) / 7));
    const double roll =
        1 + 0.10 * amount * sin(turn * s / (lock->wave_length * 0.7) + lock->wave_phase * 2.3);
    return depth * crown * bundle * parting * roll * lock->brightness * strand->brightness;
}

static double sideways(const scn_lock *lock, const scn_strand *strand, double s, double reach)
{
    const double free = soft(s / 110), ripple = turn * s / strand->ripple_length + strand->ripple_phase;
    return lock->wave_amplitude * free * sin(turn * s / lock->wave_length + lock->wave_phase) +
           strand->ripple * soft((s + 3) / 35) * sin(ripple) +
           strand->lean * (1 - exp(-fmax(0, s + 2) / 22)) + strand->drift * soft(s / reach) * s / reach;
}

/* Root position that the strand seems to come from at s: wisps draw together, locks less, most at their ends.
 */
static double gathered(const scn_scene *scene, const scn_lock *lock, const scn_strand *strand, double s)
{
    const double lock_part = 1 - scene->clump * soft(s / scene->length);
    const double tip = soft((s - strand->length + 30) / 30);
    const double wisp_part = 1 - 0.55 * soft(s / 60) - 0.35 * tip;
    const double u = strand->wisp + (strand->u - strand->wisp) * wisp_part;
    return lock->centre + (u - lock->centre) * lock_part;
}

static size_t knots_of(scn_hand *hand, const scn_lock *lock, const scn_strand *strand)
{
    const scn_scene *scene = hand->scene;
    const double scale = scene->px_mm, reach = scene->length, knot_mm = knot_step(scene);
    scn_tint_memo memo = {0, 0};
    const size_t most = (size_t)ceil((strand->length - strand->start) / knot_mm) + 1;
    const size_t count = most < hand->knot_room ? most : hand->knot_room;
    for (size_t i = 0; i < count; i++) {
        const double s = fmin(strand->start + (double)i * knot_mm, strand->length), left = strand->length - s;
        const scn_point p = scn_flow_at(hand->flow, gathered(scene, lock, strand, s), s);
        const double w = scn_paint_progress(hand->paint, &strand->paint, s);
        const scn_xyz xyz = scn_paint_colour(hand->paint, &strand->paint, s, w, &memo);
        const double bend = 0.12 * cos(turn * s / lock->wave_length + lock->wave_phase) * soft(s / 60);
        scn_knot *k = &hand->knots[i];
        k->x = (float)((p.x + sideways(lock, strand, s, reach)) * scale - (double)hand->canvas->left);
        k->y = (float)(p.y * scale - (double)hand->canvas->top);
        k->half = (float)(0.5 * strand->width * scale * (0.4 + 0.6 * soft(left / 18)));
        k->alpha = (float)(strand->opacity * soft(left / 1.5) * soft((s - strand->start + 0.2) / 0.9));
        for (int c = 0; c < 3; c++)
            k->value.v[c] = (float)xyz.v[c];
        k->value.v[SCN_SHADE] = (float)shade_at(hand, lock, strand, s);
        reflect(hand, lock, strand, s, bend, &k->value);
        k->value.v[SCN_LIGHT] = strand->paint.light;
        k->value.v[SCN_PROGRESS] = (float)w;
    }
    return count;
}

void scn_draw_strand(scn_hand *hand, const scn_lock *lock, const scn_strand *strand)
{
    const size_t count = knots_of(hand, lock, strand);
    scn_canvas_strand(hand->canvas, hand->knots, count);
}

scn_strand scn_strand_start(scn_hand *hand, const scn_lock *lock, double u)
{
    scn_random *r = &hand->random;
    const scn_scene *scene = hand->scene;
    const double finest = scn_fibre_px(scene) / scene->px_mm;
    scn_strand strand = {.u = u, .wisp = u, .across = (u - lock->centre) / (0.5 * lock->width)};
    strand.start = scn_uniform(r, -2.6, -0.4) + 0.35 * sin(u / 6.1) + 0.35 * sin(u / 2.3);
    strand.length = lock->length + 2 * scn_normal(r) - 10 * pow(scn_uniform(r, 0, 1), 3);
    strand.width = fmax(finest, 0.075 * exp(0.3 * scn_normal(r)));
    strand.drift = 1.1 * scn_normal(r);
    strand.ripple = 0.28 * fabs(scn_normal(r));
    strand.ripple_length = scn_uniform(r, 28, 75);
    strand.ripple_phase = scn_uniform(r, 0, turn);
    strand.brightness = exp(0.28 * scene->shading * scn_normal(r));
    strand.sheen = exp(0.5 * scn_normal(r));
    strand.sheen_turn = 3.0 * scn_normal(r);
    strand.opacity = scn_uniform(r, 0.75, 1.0);
    strand.paint.light = scn_paint_is_light(hand->paint, u);
    strand.paint.shift = lock->course_shift + scene->course.jitter * scn_normal(r) +
                         scene->course.slope * (u - 0.5 * scene->span);
    strand.paint.tint = scene->texture_l * scn_normal(r);
    return strand;
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
    const size_t count = knots_of(hand, lock, &middle);
    for (size_t i = 0; i < count; i++) {
        const double s = (double)i * knot_step(hand->scene);
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
                  0.9 * scn_normal(r),
                  1.5 * scn_normal(r),
                  0.5 * fabs(scn_normal(r)),
                  scn_uniform(r, 35, 95),
                  scn_uniform(r, 0, turn),
                  exp(0.24 * scene->shading * scn_normal(r)),
                  4 * scn_normal(r),
                  exp(0.45 * scn_normal(r)),
                  4 * scn_normal(r) - 22 * pow(scn_uniform(r, 0, 1), 4),
                  scn_normal(r)};
}

static void draw_wisp(scn_hand *hand, const scn_lock *lock, const wisp *w, size_t count)
{
    const scn_scene *scene = hand->scene;
    const bool light = scn_paint_is_light(hand->paint, w->u);
    for (size_t i = 0; i < count; i++) {
        const double across = scn_uniform(&hand->random, -1, 1) * (1.15 - 0.5 * (double)i / (double)count);
        scn_strand strand = scn_strand_start(hand, lock, w->u + across * w->half);
        strand.wisp = w->u;
        strand.wisp_across = across;
        /* Lights are woven in by wisps; a few strands stray. */
        if (i % 8 != 7)
            strand.paint.light = light;
        strand.drift = w->drift + 0.45 * strand.drift;
        strand.lean = w->lean + 0.3 * scn_normal(&hand->random);
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
    return (scn_lock){centre,
                      width,
                      depth,
                      scene->wave * (0.75 + 0.25 * scn_normal(r)),
                      scene->wavelength * exp(0.10 * scn_normal(r)),
                      turn * centre / 75 + 0.35 * scn_normal(r),
                      scene->course.lock_jitter * scn_normal(r),
                      scene->length + 5 * scn_normal(r) + 4 * (1 - depth),
                      exp(0.26 * scene->shading * scn_normal(r)),
                      4.0 * scn_normal(r)};
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
    const size_t room = (size_t)ceil(scene->length * 1.5 / knot_step(scene)) + 64;
    scn_hand hand = {scene, flow, paint, canvas, scn_random_start(scene->seed, 23), NULL, room};
    hand.knots = calloc(room, sizeof *hand.knots);
    if (!hand.knots)
        return scn_fail("hair", "out of memory");
    scn_draw_crown(&hand);
    scn_draw_undercoat(&hand);
    for (int layer = 0; layer < LAYERS; layer++)
        draw_layer(&hand, layer);
    scn_draw_flyaways(&hand);
    free(hand.knots);
    return true;
}
