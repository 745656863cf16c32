/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Light and shade that aren't colour: a shadow across the fall, a band of gloss, a parting. */
#include <math.h>

#include "drawing.h"

void scn_more_colour(scn_more *more, scn_xyz base, bool light)
{
    for (int k = 0; k < 3; k++) {
        more->v[SCN_PLAIN + k] = light ? 0 : (float)base.v[k];
        more->v[SCN_PLAIN_LIGHT + k] = light ? (float)base.v[k] : 0;
    }
}

/* Gloss follows the turn of locks and strands, so that its band is ragged. */
void scn_cast_at(const scn_scene *scene, const scn_lock *lock, const scn_strand *strand, double s,
                 scn_more *more)
{
    static const double mm_a_degree = 0.5,
                        half_width = 2.3548200450309493; /* full at half height, in sigma */
    const scn_cast *cast = &scene->cast;
    const double shade =
        scn_normal_step(s - cast->from, cast->edge) - scn_normal_step(s - cast->to, cast->edge);
    const double off = s - cast->sheen_at - mm_a_degree * (lock->sheen_turn + strand->sheen_turn);
    const double place = off / (cast->sheen_width / half_width);
    more->v[SCN_CAST] = (float)(1 - cast->amount * shade);
    more->v[SCN_BAND_SHEEN] = (float)(cast->sheen_amount * strand->sheen * exp(-0.5 * place * place));
}

/* Of the pixels of one row, the share that skin takes; the edge is soft over a fifth of the half width. */
static void part_row(scn_canvas *canvas, size_t y, double centre, double half)
{
    const double first = fmax(0, floor(centre - 1.2 * half)),
                 last = fmin((double)canvas->width - 1, ceil(centre + 1.2 * half));
    for (double x = first; x <= last; x++) {
        const size_t at = scn_canvas_at(canvas, (size_t)x, y);
        const float skin = (float)(1 - scn_soft(0.8 * half, 1.2 * half, fabs(x + 0.5 - centre)));
        canvas->skin[at] += skin * canvas->cover[at];
        canvas->cover[at] *= 1 - skin;
        for (int k = 0; k < SCN_CHANNELS; k++)
            canvas->pixels[at].v[k] *= 1 - skin;
        for (int k = 0; canvas->more && k < SCN_MORE; k++)
            canvas->more[at].v[k] *= 1 - skin;
        if (canvas->ways) {
            canvas->ways[at].x *= 1 - skin;
            canvas->ways[at].y *= 1 - skin;
            canvas->ways[at].second *= 1 - skin;
        }
    }
}

/* Narrows to nothing at its end, and is ragged. */
static double parting_half(const scn_cast *cast, double s)
{
    const double ragged = 1 + 0.16 * scn_mottle(s / 1.7, 3.5) + 0.1 * scn_mottle(s / 0.6, 8.5);
    return 0.5 * cast->parting_width * ragged * sqrt(fmax(0, 1 - pow(fmax(0, s) / cast->parting_length, 3)));
}

void scn_draw_parting(const scn_scene *scene, const scn_flow *flow, scn_canvas *canvas)
{
    const scn_cast *cast = &scene->cast;
    const double scale = scene->px_mm, step = 0.4 / scale;
    double below = -INFINITY;
    if (!canvas->skin)
        return;
    for (double s = -3; s < cast->parting_length; s += step) {
        const scn_point p = scn_flow_at(flow, cast->parting_at, s);
        const double y = floor(p.y * scale) - (double)canvas->top, half = parting_half(cast, s) * scale;
        /* Each row once, where the parting comes to it. */
        if (y <= below || y < 0 || y >= (double)canvas->height || half < 0.25)
            continue;
        below = y;
        part_row(canvas, (size_t)y, p.x * scale - (double)canvas->left, half);
    }
}
