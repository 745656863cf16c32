/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/evenness_causes.h"

#include <math.h>

#include "colour/lab.h"
#include "measure/lightness_cause.h"

static const double orange[2] = {0.5, 0.8660254}; /* of a*, b*: a hue of 60 degrees; a choice */
static const double least_y = 1e-4;

double tdm_towards_orange(const double lab[3], const double from[3])
{
    return orange[0] * (lab[1] - from[1]) + orange[1] * (lab[2] - from[2]);
}

/* What leads from one colour to another, in linear light; false where they differ in warmth more than in
 * lightness: then a warm patch may be what makes them differ. */
static bool way(const double dark[3], const double light[3], double out[3])
{
    double from[3], to[3];
    tdm_lab_to_xyz(dark, from);
    tdm_lab_to_xyz(light, to);
    for (int k = 0; k < 3; k++)
        out[k] = to[k] - from[k];
    return fabs(light[0] - dark[0]) > fabs(tdm_towards_orange(light, dark)) && fabs(out[1]) > least_y;
}

tdm_warm_causes tdm_warm_causes_of(const tdm_measure_input *input, const struct tdm_zone_reading *zone)
{
    tdm_warm_causes out = {.gloss = TDM_GLOSS_LEFT};
    const tdm_fall *fall = input->fall;
    double further[3];
    for (size_t i = 0; i < fall->bins; i++)
        out.gloss = fmax(out.gloss, fall->gloss[i]);
    if (zone->strands.separable)
        out.has_strands = way(zone->strands.dark_lab, zone->strands.light_lab, out.strands);
    for (int k = 0; k < 3; k++)
        further[k] = fall->root_lab[k] + TDM_JND_LAB * fall->direction[k];
    if (fall->fit.shape != TDM_SHAPE_UNIFORM)
        out.has_fall = way(fall->root_lab, further, out.fall);
    return out;
}

/* How much warmer than another colour with a share of something added and shade over it. */
static double warmer(const double own[3], const double from[3], const double added[3], double share)
{
    double made[3], lab[3], seen[3];
    for (int k = 0; k < 3; k++)
        made[k] = fmax(from[k] + share * added[k], least_y);
    const double shade = own[1] / made[1];
    for (int k = 0; k < 3; k++)
        made[k] *= shade;
    tdm_xyz_to_lab(made, lab);
    tdm_xyz_to_lab(own, seen);
    return tdm_towards_orange(seen, lab);
}

/* The share that makes it as light, within limits. */
static double as_light(const double own[3], const double from[3], const double added[3], double most)
{
    return fmin(fmax((own[1] - from[1]) / added[1], -most), most);
}

double tdm_warmth_left(const tdm_warm_causes *may, const double own[3], const double usual[3])
{
    const double *white = tdm_white_d50, *strands = may->strands, *fall = may->fall;
    double least = warmer(own, usual, usual, 0);
    least = fmin(least, warmer(own, usual, white, as_light(own, usual, white, may->gloss)));
    if (may->has_strands)
        least = fmin(least, warmer(own, usual, strands, as_light(own, usual, strands, 1)));
    if (may->has_fall)
        least = fmin(least, warmer(own, usual, fall, as_light(own, usual, fall, INFINITY)));
    return least;
}

double tdm_warmth_past_chance(const tdm_warm_causes *may, const double own[3], const double usual[3],
                              double share)
{
    return may->has_strands
               ? fmin(warmer(own, usual, may->strands, share), warmer(own, usual, may->strands, -share))
               : INFINITY;
}
