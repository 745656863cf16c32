/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "colour/find_match.h"

#include <math.h>
#include <stdlib.h>

#include "colour/find_plane.h"
#include "colour/lab.h"
#include "colour/matrix.h"

enum { PATCHES = TDM_REFERENCE_PATCHES, COLUMNS = 6, ROWS = 4, TERMS = 5, ROUNDS = 9, TIGHT = 4 };

/* Choices, in units of the encoded reference (white 0.95) unless said. */
static const double colour_error = 0.04; /* standard deviation of a channel that the model can't explain */
static const double shade_error = 0.15;  /* standard deviation of a patch's own factor: shade, gloss */
static const int fewest_judged = 13;
static const double hopeless =
    0.25; /* least agreement, of a three times larger tolerance, of the first fit */
static const double least_slope = 0.15, most_slope = 4, most_slope_ratio = 4;
static const double most_mixed = 0.4; /* of the slope, that comes from other channels */
/* Of the terms: offset, slope, bend, and what either other channel adds. */
static const double prior_error[TERMS] = {0.1, 100, 0.3, 0.06, 0.06};
static const double tight_error = 0.01;

static double encode(double linear)
{
    return linear > 0 ? pow(linear, 1 / 2.2) : 0;
}

static void from_xyz(const double to_rgb[9], const double xyz[3], double value[3])
{
    double linear[3];
    tdm_matrix_apply(to_rgb, xyz, linear);
    for (int k = 0; k < 3; k++)
        value[k] = encode(linear[k]);
}

bool tdm_find_colours_of(const tdm_device *device, const double (*encoded)[3], size_t count,
                         tdm_find_colour *out)
{
    double to_rgb[9];
    float *numbers = malloc((count + 1) * 6 * sizeof *numbers);
    if (!numbers || !tdm_matrix_invert(tdm_device_primaries(device), to_rgb)) {
        free(numbers);
        return false;
    }
    float *const xyz = numbers + 3 * count;
    for (size_t i = 0; i < 3 * count; i++)
        numbers[i] = (float)(encoded[i / 3][i % 3] / 255);
    tdm_device_to_xyz(device, numbers, xyz, count);
    for (size_t i = 0; i < count; i++) {
        const double at[3] = {xyz[3 * i], xyz[3 * i + 1], xyz[3 * i + 2]};
        from_xyz(to_rgb, at, out[i].value);
        for (int k = 0; k < 3; k++)
            out[i].top[k] = encoded[i][k] > 250;
    }
    free(numbers);
    return true;
}

tdm_find_reference tdm_find_reference_of(const tdm_device *device)
{
    const tdm_reference published = tdm_reference_published();
    tdm_find_reference reference = {0};
    double to_rgb[9], xyz[3];
    if (!tdm_matrix_invert(tdm_device_primaries(device), to_rgb))
        return reference;
    for (int i = 0; i < PATCHES; i++) {
        tdm_lab_to_xyz(published.lab[i], xyz);
        from_xyz(to_rgb, xyz, reference.value[i]);
    }
    return reference;
}

/* The fit at work: a channel's terms, and each patch's factor and weight. */
typedef struct state {
    const tdm_find_reference *reference;
    const tdm_find_colour *const *colours;
    double terms[3][TERMS];
    double factor[PATCHES], weight[PATCHES];
    bool held[PATCHES][3]; /* at its top, and the model has it there or higher: says nothing more */
    double far[PATCHES];   /* d squared */
    bool judged[PATCHES];  /* two channels or more say something */
} state;

static void basis(const double reference[3], int channel, double row[TERMS])
{
    const double r = reference[channel];
    row[0] = 1;
    row[1] = r;
    row[2] = r * r;
    row[3] = reference[(channel + 1) % 3] - r;
    row[4] = reference[(channel + 2) % 3] - r;
}

static double model(const state *s, int patch, int channel)
{
    double row[TERMS], sum = 0;
    basis(s->reference->value[patch], channel, row);
    for (int t = 0; t < TERMS; t++)
        sum += s->terms[channel][t] * row[t];
    return sum;
}

/* Rising throughout, and no channel far from the others. */
static bool plausible(const state *s)
{
    double least = INFINITY, most = 0;
    for (int k = 0; k < 3; k++) {
        const double slope = s->terms[k][1] + s->terms[k][2];
        if (fabs(s->terms[k][3]) + fabs(s->terms[k][4]) > most_mixed * slope || s->terms[k][1] < 0 ||
            s->terms[k][1] + 2 * s->terms[k][2] < 0)
            return false;
        least = fmin(least, slope);
        most = fmax(most, slope);
    }
    return least >= least_slope && most <= most_slope && most <= most_slope_ratio * least;
}

/* tight: the first rounds, before dirty patches have lost their weight, have offset and slope alone. */
static bool fit_channel(state *s, int channel, bool tight)
{
    double a[TERMS * TERMS] = {0}, b[TERMS] = {0}, row[TERMS];
    for (int t = 0; t < TERMS; t++) {
        const double error = tight && t > 1 ? tight_error : prior_error[t];
        a[t * TERMS + t] = colour_error * colour_error / (error * error);
    }
    for (int i = 0; i < PATCHES; i++) {
        if (s->held[i][channel])
            continue;
        basis(s->reference->value[i], channel, row);
        const double by = s->weight[i] * s->factor[i], wanted = s->colours[i]->value[channel];
        for (int t = 0; t < TERMS; t++) {
            for (int u = 0; u <= t; u++)
                a[t * TERMS + u] += by * s->factor[i] * row[t] * row[u];
            b[t] += by * row[t] * wanted;
        }
    }
    if (!tdm_find_solve(a, b, TERMS))
        return false;
    for (int t = 0; t < TERMS; t++)
        s->terms[channel][t] = b[t];
    return true;
}

/* Finds the patch's factor, its distance and from that its weight. */
static void judge(state *s, int patch)
{
    const double error = colour_error * colour_error, shade = shade_error * shade_error;
    double wanted[3], seen[3], product = error / shade, square = error / shade, far = 0;
    for (int k = 0; k < 3; k++) {
        const double slope = s->terms[k][1] + s->terms[k][2];
        wanted[k] = model(s, patch, k) / slope;
        seen[k] = s->colours[patch]->value[k] / slope;
        if (!s->held[patch][k]) {
            product += wanted[k] * seen[k];
            square += wanted[k] * wanted[k];
        }
    }
    s->factor[patch] = fmin(fmax(product / square, 0.4), 1.8);
    for (int k = 0; k < 3; k++) {
        const double rest = seen[k] - s->factor[patch] * wanted[k];
        s->held[patch][k] = s->colours[patch]->top[k] && rest < 0;
        far += s->held[patch][k] ? 0 : rest * rest / error;
    }
    far += (s->factor[patch] - 1) * (s->factor[patch] - 1) / shade;
    s->judged[patch] = s->held[patch][0] + s->held[patch][1] + s->held[patch][2] < 2;
    s->far[patch] = far;
    s->weight[patch] = 1 / (1 + far / 9);
}

static double agreement(const state *s, double wider)
{
    double sum = 0;
    int judged = 0;
    for (int i = 0; i < PATCHES; i++) {
        sum += s->judged[i] ? exp(-s->far[i] / (18 * wider * wider)) : 0;
        judged += s->judged[i];
    }
    return judged >= fewest_judged ? sum / judged : 0;
}

static bool round_of(state *s, bool tight)
{
    for (int k = 0; k < 3; k++) {
        if (!fit_channel(s, k, tight))
            return false;
    }
    if (!plausible(s))
        return false;
    for (int i = 0; i < PATCHES; i++)
        judge(s, i);
    return true;
}

static bool is_odd(const state *s, int patch)
{
    return s->judged[patch] && s->far[patch] >= 9;
}

static bool all_odd(const state *s, int from, int step, int count)
{
    for (int i = 0; i < count; i++) {
        if (!is_odd(s, from + i * step))
            return false;
    }
    return true;
}

tdm_find_match tdm_find_match_of(const tdm_find_reference *reference,
                                 const tdm_find_colour *const colours[PATCHES])
{
    state s = {.reference = reference, .colours = colours};
    tdm_find_match match = {0};
    for (int i = 0; i < PATCHES; i++) {
        s.factor[i] = s.weight[i] = 1;
        for (int k = 0; k < 3; k++)
            s.held[i][k] = colours[i]->top[k];
    }
    for (int i = 0; i < ROUNDS; i++) {
        if (!round_of(&s, i < TIGHT) || agreement(&s, 3) < hopeless)
            return match;
    }
    match.agreement = agreement(&s, 1);
    for (int i = 0; i < PATCHES; i++)
        match.odd += is_odd(&s, i);
    for (int i = 0; i < COLUMNS; i++)
        match.odd_line = match.odd_line || all_odd(&s, i, COLUMNS, ROWS);
    for (int i = 0; i < ROWS; i++)
        match.odd_line = match.odd_line || all_odd(&s, i * COLUMNS, 1, COLUMNS);
    return match;
}
