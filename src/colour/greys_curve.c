/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tone from grey references of several lightnesses. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "colour/greys_parts.h"
#include "colour/monotone.h"

enum { FEWEST_STEPS = 3, MOST_STEPS = TDM_CURVE_KNOTS - 1 };
static const double step_lstar = 5;                        /* apart, or they count as one step */
static const double rough_exponent = 0.3, rough_lstar = 2; /* beyond both a step is implausible */

double tdm_contrast_error(double lstar, double below, double above, double exponent_u)
{
    const double y = tdm_luminance_of(lstar);
    const double down = isnan(below) ? INFINITY : fabs(log(y / tdm_luminance_of(below)));
    const double up = isnan(above) ? INFINITY : fabs(log(y / tdm_luminance_of(above)));
    /* Pinned at both ends the error is largest in the middle, as a bridge between them. */
    const double reach = isinf(down) ? up : (isinf(up) ? down : down + up > 0 ? down * up / (down + up) : 0);
    const double stretched = y * exp(isinf(up) ? exponent_u * reach : -exponent_u * reach);
    return fabs(tdm_lightness_of(stretched) - lstar);
}

/* Several references as one: means of cube roots, weighted. */
typedef struct step {
    double in[3], out[3], weight, lstar;
} step;

static step step_of(const tdm_grey_measured *grey, const tdm_light *light)
{
    step one = {.weight = grey->weight, .lstar = grey->lstar};
    double factors[3];
    tdm_light_at(light, grey->middle[0], grey->middle[1], factors);
    for (int c = 0; c < 3; c++) {
        one.in[c] = cbrt(grey->rgb[c]);
        one.out[c] = cbrt(grey->wanted / factors[c]);
    }
    return one;
}

static void merge(step *into, const step *from)
{
    const double sum = into->weight + from->weight;
    const double a = into->weight / sum, b = from->weight / sum;
    for (int c = 0; c < 3; c++) {
        into->in[c] = a * into->in[c] + b * from->in[c];
        into->out[c] = a * into->out[c] + b * from->out[c];
    }
    into->lstar = a * into->lstar + b * from->lstar;
    into->weight = sum;
}

static int compare_steps(const void *a, const void *b)
{
    const double x = ((const step *)a)->lstar, y = ((const step *)b)->lstar;
    return (x > y) - (x < y);
}

/* Nearest neighbours first, until all are apart and few enough. */
static size_t gather_steps(step *steps, size_t count)
{
    qsort(steps, count, sizeof *steps, compare_steps);
    while (count > 1) {
        size_t nearest = 0;
        for (size_t i = 1; i + 1 < count; i++) {
            if (steps[i + 1].lstar - steps[i].lstar < steps[nearest + 1].lstar - steps[nearest].lstar)
                nearest = i;
        }
        const double gap = steps[nearest + 1].lstar - steps[nearest].lstar;
        if (gap >= step_lstar && count <= MOST_STEPS)
            break;
        merge(&steps[nearest], &steps[nearest + 1]);
        memmove(&steps[nearest + 1], &steps[nearest + 2], (count - nearest - 2) * sizeof *steps);
        count--;
    }
    return count;
}

static bool rises(const double *values, int count)
{
    for (int i = 1; i < count; i++) {
        if (!(values[i] > values[i - 1] + 1e-6))
            return false;
    }
    return true;
}

static void set_slopes(tdm_calibration *curve)
{
    for (int c = 0; c < 3; c++)
        tdm_monotone_slopes(curve->curve_in[c], curve->curve_out[c], curve->knots, curve->curve_slope[c]);
}

bool tdm_greys_curve(const tdm_grey_measured *greys, size_t count, const tdm_light *light,
                     tdm_calibration *out)
{
    enum { ROOM = 64 }; /* more references are merged as they come */
    step steps[ROOM];
    size_t held = 0;
    for (size_t i = 0; i < count; i++) {
        if (held == ROOM)
            held = gather_steps(steps, held);
        steps[held++] = step_of(&greys[i], light);
    }
    held = gather_steps(steps, held);
    if (held < FEWEST_STEPS)
        return false;
    tdm_calibration curve = *out;
    curve.knots = (int)held + 1; /* the first is zero: no light, no colour */
    for (int c = 0; c < 3; c++) {
        curve.gain[c] = 1;
        curve.curve_in[c][0] = curve.curve_out[c][0] = 0;
        for (size_t i = 0; i < held; i++) {
            curve.curve_in[c][i + 1] = steps[i].in[c];
            curve.curve_out[c][i + 1] = steps[i].out[c];
        }
        if (!rises(curve.curve_in[c], curve.knots) || !rises(curve.curve_out[c], curve.knots))
            return false;
    }
    set_slopes(&curve);
    *out = curve;
    return true;
}

static double knot_lstar(const tdm_calibration *curve, int knot)
{
    return 116 * (curve->curve_out[0][knot] + curve->curve_out[1][knot] + curve->curve_out[2][knot]) / 3 - 16;
}

/* What a curve without this knot misses it by, L*. */
static double left_out_miss(const tdm_calibration *curve, int knot)
{
    tdm_calibration others = *curve;
    double sum = 0;
    others.knots--;
    for (int c = 0; c < 3; c++) {
        for (int i = knot; i < others.knots; i++) {
            others.curve_in[c][i] = curve->curve_in[c][i + 1];
            others.curve_out[c][i] = curve->curve_out[c][i + 1];
        }
    }
    set_slopes(&others);
    for (int c = 0; c < 3; c++) {
        const double in = curve->curve_in[c][knot];
        sum += cbrt(tdm_calibration_channel(&others, c, in * in * in)) - curve->curve_out[c][knot];
    }
    return fabs(116 * sum / 3);
}

tdm_step_check tdm_greys_check_steps(const tdm_calibration *curve, double lstar)
{
    tdm_step_check check = {.below = NAN, .above = NAN};
    double square_below = NAN, square_above = NAN;
    for (int k = 1; k < curve->knots; k++) {
        const double here = knot_lstar(curve, k), miss = left_out_miss(curve, k);
        const double below = k > 1 ? knot_lstar(curve, k - 1) : NAN;
        const double above = k + 1 < curve->knots ? knot_lstar(curve, k + 1) : NAN;
        const double plausible = rough_lstar + tdm_contrast_error(here, below, above, rough_exponent);
        if (miss - plausible > check.worst) {
            check.worst = miss - plausible;
            check.worst_lstar = here;
        }
        if (here <= lstar) {
            check.below = here;
            square_below = miss * miss;
        } else if (isnan(check.above)) {
            check.above = here;
            square_above = miss * miss;
        }
    }
    const double sum = (isnan(square_below) ? 0 : square_below) + (isnan(square_above) ? 0 : square_above);
    check.near = sqrt(sum / (isnan(square_below) || isnan(square_above) ? 1 : 2));
    return check;
}
