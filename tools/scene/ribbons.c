/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where ribbons of light hair leave the root line. */
#include <math.h>

#include "drawing.h"

typedef struct {
    double share, ribbon, span; /* mm */
    bool regular;
} design;

/* Ribbons drawn from left to right; gaps fill what the share leaves. */
static void place(scn_ribbons *ribbons, const design *as, scn_random random)
{
    const double wanted = as->share * as->span / as->ribbon;
    const size_t count = (size_t)fmin(fmax(round(wanted), as->share > 0 ? 1 : 0), SCN_MOST_RIBBONS);
    double widths = 0, gaps = 0, gap[SCN_MOST_RIBBONS + 1];
    for (size_t i = 0; i < count; i++) {
        ribbons->to[i] = as->ribbon * exp((as->regular ? 0.05 : 0.4) * scn_normal(&random));
        widths += ribbons->to[i];
    }
    for (size_t i = 0; i <= count; i++) {
        gap[i] = as->regular ? 1 : 0.15 - log(scn_uniform(&random, 0, 1));
        gaps += i == 0 || i == count ? (gap[i] *= 0.5) : gap[i];
    }
    const double shrink = count ? as->share * as->span / widths : 0;
    double u = 0;
    for (size_t i = 0; i < count; i++) {
        u += gap[i] / gaps * (1 - as->share) * as->span;
        ribbons->from[i] = u;
        u += ribbons->to[i] * shrink;
        ribbons->to[i] = u;
    }
    ribbons->count = count;
}

void scn_paint_place(scn_paint *paint)
{
    const scn_scene *scene = paint->scene;
    const scn_lights *first = &scene->lights;
    const scn_second_lights *second = &scene->second_lights;
    const design one = {first->share, first->ribbon, scene->span, first->regular},
                 other = {second->share / fmax(1 - first->share, 0.05), second->ribbon,
                          scene->span * (1 - first->share), second->regular};
    place(&paint->first_ribbons, &one, scn_random_start(scene->seed, 11));
    place(&paint->second_ribbons, &other, scn_random_start(scene->seed, 37));
}

static bool among(const scn_ribbons *ribbons, double u)
{
    for (size_t i = 0; i < ribbons->count; i++) {
        if (u >= ribbons->from[i] && u < ribbons->to[i])
            return true;
    }
    return false;
}

/* What the ribbons leave of the root line up to u. */
static double left_over(const scn_ribbons *ribbons, double u)
{
    double taken = 0;
    for (size_t i = 0; i < ribbons->count; i++)
        taken += fmax(0, fmin(u, ribbons->to[i]) - ribbons->from[i]);
    return u - taken;
}

scn_kind scn_paint_kind(const scn_paint *paint, double u)
{
    if (among(&paint->first_ribbons, u))
        return SCN_FIRST;
    if (paint->second_ribbons.count == 0)
        return SCN_DARK;
    return among(&paint->second_ribbons, left_over(&paint->first_ribbons, u)) ? SCN_SECOND : SCN_DARK;
}
