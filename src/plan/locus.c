/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/locus.h"

#include <math.h>
#include <string.h>

#include "colour/lab.h"

static const double beyond = 0.15;    /* of the locus' length, at either end */
static const double least_beyond = 3; /* CIELAB units: hair of one colour still varies */
static const double colour_sd = 1;    /* CIELAB units that a body colour may lie off the locus */
static const double shade_sd = 0.2;   /* of the factor on L* + 16: shading among locks */
static const double black = 16;       /* L* + 16 is what shading multiplies */
static const double darkest = 2;      /* L* */

static double apart(const double a[3], const double b[3])
{
    return sqrt((a[0] - b[0]) * (a[0] - b[0]) + (a[1] - b[1]) * (a[1] - b[1]) +
                (a[2] - b[2]) * (a[2] - b[2]));
}

static void sort_by_lightness(double knots[][3], int count)
{
    for (int i = 1; i < count; i++) {
        double moved[3];
        memcpy(moved, knots[i], sizeof moved);
        int k = i;
        for (; k > 0 && knots[k - 1][0] > moved[0]; k--)
            memcpy(knots[k], knots[k - 1], sizeof moved);
        memcpy(knots[k], moved, sizeof moved);
    }
}

/* Colour at a length along the polyline; its first and last pieces run on beyond their ends. */
static void at_length(double knots[][3], int count, double length, double out[3])
{
    int i = 0;
    double gone = 0, piece = apart(knots[0], knots[1]);
    while (i + 2 < count && length > gone + piece) {
        gone += piece;
        i++;
        piece = apart(knots[i], knots[i + 1]);
    }
    const double part = piece > 0 ? (length - gone) / piece : 0;
    for (int k = 0; k < 3; k++)
        out[k] = knots[i][k] + part * (knots[i + 1][k] - knots[i][k]);
}

/* Hair of one colour: a stretch of depth at its own hue. */
static void widen_one(double knots[][3])
{
    for (int k = 0; k < 3; k++)
        knots[1][k] = knots[0][k];
    knots[1][0] += 0.5;
    knots[0][0] -= 0.5;
}

void tdm_locus_make(double knots[][3], int count, tdm_locus *out)
{
    double own[TDM_LOCUS_KNOTS + 1][3];
    memcpy(own, knots, (size_t)count * sizeof own[0]);
    sort_by_lightness(own, count);
    if (count == 1 || apart(own[0], own[count - 1]) < 1) {
        widen_one(own);
        count = 2;
    }
    double length = 0;
    for (int i = 0; i + 1 < count; i++)
        length += apart(own[i], own[i + 1]);
    const double extra = fmax(beyond * length, least_beyond);
    for (int i = 0; i <= TDM_LOCUS_STEPS; i++) {
        double *lab = out->lab[i];
        at_length(own, count, -extra + (length + 2 * extra) * i / TDM_LOCUS_STEPS, lab);
        lab[0] = fmax(lab[0], darkest);
        tdm_lab_to_xyz(lab, out->xyz[i]);
    }
}

static double dot(const double a[3], const double b[3])
{
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

/* The likelihood's exponent at a step with the best factor there: normal errors of colour, and a factor that
 * is near 1. */
static double misfit(const double body[3], const double seen[3])
{
    const double colour = 1 / (colour_sd * colour_sd), shade = 1 / (shade_sd * shade_sd);
    const double factor = (colour * dot(body, seen) + shade) / (colour * dot(body, body) + shade);
    double square = 0;
    for (int k = 0; k < 3; k++)
        square += (seen[k] - factor * body[k]) * (seen[k] - factor * body[k]);
    return colour * square + shade * (factor - 1) * (factor - 1);
}

int tdm_locus_step(const tdm_locus *locus, const double lab[3])
{
    const double seen[3] = {lab[0] + black, lab[1], lab[2]};
    double least = INFINITY;
    int best = 0;
    for (int i = 0; i <= TDM_LOCUS_STEPS; i++) {
        const double body[3] = {locus->lab[i][0] + black, locus->lab[i][1], locus->lab[i][2]};
        const double here = misfit(body, seen);
        if (here < least) {
            least = here;
            best = i;
        }
    }
    return best;
}

double tdm_locus_shade(const tdm_locus *locus, int step, const double lab[3])
{
    const double seen[3] = {lab[0] + black, lab[1], lab[2]};
    const double body[3] = {locus->lab[step][0] + black, locus->lab[step][1], locus->lab[step][2]};
    const double factor = fmax(dot(body, seen) / dot(body, body), 0);
    return factor * factor * factor;
}
