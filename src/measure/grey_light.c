/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/grey_light.h"

#include <math.h>

#include "colour/lab.h"

/* Lightened hair nearer to white, in units of natural hair's distance, isn't told from it: undyed grey hair
 * is among the light strands of the lengths. */
static const double least_apart = 0.35;
/* Parts of pigment and gloss that are white hair of another tint, and those beyond which nothing is white. */
static const double forgiven = 0.1, certain = 0.95;

/* On the plane of one luminance, white's: X and Z relative to D50, about alike to the eye. */
typedef struct place {
    double x, z;
} place;

static place reached(const tdm_grey_ends *ends, const double to[3])
{
    const double times = (ends->white[1] - ends->natural[1]) / (to[1] - ends->natural[1]);
    return (place){(ends->natural[0] + times * (to[0] - ends->natural[0])) / tdm_white_d50[0],
                   (ends->natural[2] + times * (to[2] - ends->natural[2])) / tdm_white_d50[2]};
}

static place between(place from, place to)
{
    return (place){to.x - from.x, to.z - from.z};
}

static double length(place of)
{
    return hypot(of.x, of.z);
}

/* Natural hair in more light keeps its proportions; lightened hair may be known better. */
static place pigment_end(const tdm_grey_ends *ends, place white)
{
    const double brighter[3] = {2 * ends->natural[0], 2 * ends->natural[1], 2 * ends->natural[2]};
    const place shade = reached(ends, brighter);
    if (!(ends->light[1] > 1.2 * ends->natural[1]))
        return shade;
    const place light = reached(ends, ends->light);
    return length(between(white, light)) > least_apart * length(between(white, shade)) ? light : shade;
}

/* How far along `to` from white, or 0. */
static double along(place seen, place to)
{
    const double square = to.x * to.x + to.z * to.z;
    return square > 0 ? fmax(0, (seen.x * to.x + seen.z * to.z) / square) : 0;
}

tdm_grey_parts tdm_grey_parts_of(const tdm_grey_ends *ends, const double seen[3])
{
    const double shine[3] = {ends->natural[0] + tdm_white_d50[0], ends->natural[1] + tdm_white_d50[1],
                             ends->natural[2] + tdm_white_d50[2]};
    const place white = reached(ends, ends->white), off = between(white, reached(ends, seen));
    const place pigment = between(white, pigment_end(ends, white)),
                gloss = between(white, reached(ends, shine));
    const double det = pigment.x * gloss.z - pigment.z * gloss.x;
    double p = det != 0 ? (off.x * gloss.z - off.z * gloss.x) / det : 0,
           g = det != 0 ? (pigment.x * off.z - pigment.z * off.x) / det : 0;
    if (p < 0 || g < 0) {
        const double only_p = along(off, pigment), only_g = along(off, gloss);
        p = p < 0 ? 0 : only_p;
        g = g < 0 ? 0 : only_g;
    }
    const double rest = p + g;
    const double white_part = 1 - fmin(1, fmax(0, (rest - forgiven) / (certain - forgiven)));
    return (tdm_grey_parts){.white = white_part,
                            .pigment = rest > 0 ? (1 - white_part) * p / rest : 0,
                            .gloss = rest > 0 ? (1 - white_part) * g / rest : 0};
}

void tdm_grey_colour(const tdm_grey_ends *ends, const double seen[3], double lab[3])
{
    const place at = reached(ends, seen);
    const double xyz[3] = {at.x * tdm_white_d50[0], ends->white[1], at.z * tdm_white_d50[2]};
    tdm_xyz_to_lab(xyz, lab);
}
