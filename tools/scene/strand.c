/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One strand: how it lies, how it is shaded, what it reflects. */
#include <math.h>

#include "drawing.h"
#include "grey.h"

static const double turn = 6.283185307179586, degree = 3.14159265358979323846 / 180;

/* Apart by this many mm along a strand. */
double scn_knot_step(const scn_scene *scene)
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

/* High waves turn more slowly from lock to lock: else the hair would fold over. */
double scn_wave_period(const scn_scene *scene)
{
    return fmax(75, 12.5 * scene->wave);
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

/* The truth's course leaves spots and white hair out. */
static void carry_more(const scn_hand *hand, const scn_lock *lock, const scn_strand *strand, double s,
                       double w, scn_knot *knot)
{
    scn_strand_paint plain = strand->paint;
    plain.white = 0;
    scn_more_colour(&knot->more, scn_paint_base(hand->paint, &plain, SCN_BEYOND, s, w),
                    plain.kind != SCN_DARK);
    knot->more.v[SCN_GREY] = (float)scn_white_left(hand->scene, &strand->paint, w);
    scn_cast_at(hand->scene, lock, strand, s, &knot->more);
}

size_t scn_knots_of(scn_hand *hand, const scn_lock *lock, const scn_strand *strand)
{
    const scn_scene *scene = hand->scene;
    const double scale = scene->px_mm, reach = scene->length, knot_mm = scn_knot_step(scene);
    scn_tint_memo memo = {0, 0};
    const size_t most = (size_t)ceil((strand->length - strand->start) / knot_mm) + 1;
    const size_t count = most < hand->knot_room ? most : hand->knot_room;
    for (size_t i = 0; i < count; i++) {
        const double s = fmin(strand->start + (double)i * knot_mm, strand->length), left = strand->length - s;
        const double u = gathered(scene, lock, strand, s), aside = sideways(lock, strand, s, reach);
        const scn_point p = scn_flow_at(hand->flow, u, s);
        const double w = scn_paint_progress(hand->paint, &strand->paint, s);
        const scn_xyz base = scn_paint_base(hand->paint, &strand->paint, u + aside, s, w);
        const scn_xyz xyz = scn_paint_tinted(hand->paint, &strand->paint, base, &memo);
        const double bend = 0.12 * cos(turn * s / lock->wave_length + lock->wave_phase) * soft(s / 60);
        scn_knot *k = &hand->knots[i];
        k->x = (float)((p.x + aside) * scale - (double)hand->canvas->left);
        k->y = (float)(p.y * scale - (double)hand->canvas->top);
        k->half = (float)(0.5 * strand->width * scale * (0.4 + 0.6 * soft(left / 18)));
        k->alpha = (float)(strand->opacity * soft(left / 1.5) * soft((s - strand->start + 0.2) / 0.9));
        for (int c = 0; c < 3; c++)
            k->value.v[c] = (float)xyz.v[c];
        k->value.v[SCN_SHADE] = (float)shade_at(hand, lock, strand, s);
        reflect(hand, lock, strand, s, bend, &k->value);
        scn_knot_kind(k, strand->paint.kind);
        k->value.v[SCN_PROGRESS] = (float)w;
        if (hand->canvas->more)
            carry_more(hand, lock, strand, s, w, k);
    }
    return count;
}

void scn_draw_strand(scn_hand *hand, const scn_lock *lock, const scn_strand *strand)
{
    const size_t count = scn_knots_of(hand, lock, strand);
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
    strand.drift = scene->drift * 1.1 * scn_normal(r);
    strand.ripple = scene->drift * 0.28 * fabs(scn_normal(r));
    strand.ripple_length = scn_uniform(r, 28, 75);
    strand.ripple_phase = scn_uniform(r, 0, turn);
    strand.brightness = exp(0.28 * scene->shading * scn_normal(r));
    strand.sheen = exp(0.5 * scn_normal(r));
    strand.sheen_turn = 3.0 * scn_normal(r);
    strand.opacity = scn_uniform(r, 0.75, 1.0);
    strand.paint.kind = scn_paint_kind(hand->paint, u);
    strand.paint.shift =
        lock->course_shift + scene->course.jitter * scn_normal(r) + scn_course_shift(scene, u);
    strand.paint.gap = scn_course_gap(scene, u);
    if (scene->melt.on)
        strand.paint.melt_shift = lock->melt_shift + scene->melt.jitter * scn_normal(&hand->melt_random);
    strand.paint.tint = scene->texture_l * scn_normal(r);
    strand.paint.white = scn_strand_white(hand, u);
    return strand;
}
