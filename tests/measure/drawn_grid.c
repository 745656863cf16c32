/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/drawn_grid.h"

#include <check.h>
#include <gsl/gsl_math.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Uniform in (0, 1). */
static double uniform(unsigned i, unsigned j)
{
    return 0.5 * erfc(-synthetic_noise(i, j) / M_SQRT2);
}

void drawn_lay(drawn_ribbons *out, double from, double to, double width, double share, bool regular,
               unsigned seed)
{
    const double gap = width / share - width;
    double at = from - 3 * (width + gap) * uniform(seed, 9999);
    out->count = 0;
    for (unsigned i = 0; at < to && out->count < DRAWN_MOST; i++) {
        const double wide = width * exp((regular ? 0.05 : 0.4) * synthetic_noise(seed, 2 * i));
        at += regular ? gap : -gap * log(uniform(seed, 2 * i + 1));
        out->left[out->count] = at;
        at += wide;
        out->right[out->count++] = at;
    }
}

static double shift_at(const drawn_ribbons *ribbons, double along)
{
    const double turn = ribbons->wavelength > 0 ? 2 * M_PI * along / ribbons->wavelength : 0;
    return ribbons->slope * along + ribbons->wave * sin(turn);
}

static double slope_at(const drawn_ribbons *ribbons, double along)
{
    const double turns = ribbons->wavelength > 0 ? 2 * M_PI / ribbons->wavelength : 0;
    return ribbons->slope + ribbons->wave * turns * cos(turns * along);
}

/* Share of [from, to) that ribbons, moved by shift, cover; they don't overlap. */
static double cover(const drawn_ribbons *ribbons, double from, double to, double shift)
{
    double sum = 0;
    for (size_t i = 0; i < ribbons->count; i++) {
        const double common = fmin(to, ribbons->right[i] + shift) - fmax(from, ribbons->left[i] + shift);
        sum += fmax(common, 0);
    }
    return sum / (to - from);
}

void drawn_grid(const drawn_ribbons *ribbons, double length, double width, double cell, tdm_strand_grid *out)
{
    *out = (tdm_strand_grid){
        .windows = (size_t)(length / 2), .cols = (size_t)(width / cell + 0.5), .window = 2, .to = length};
    const size_t cells = out->windows * out->cols;
    out->light = calloc(cells, sizeof *out->light);
    out->slope = calloc(cells, sizeof *out->slope);
    ck_assert(out->light && out->slope);
    for (size_t i = 0; i < cells; i++) {
        const double along = 2 * ((double)(i / out->cols) + 0.5), left = (double)(i % out->cols) * cell;
        out->light[i] = cover(ribbons, left, left + cell, shift_at(ribbons, along));
        out->slope[i] = slope_at(ribbons, along);
    }
}

static void plain(double s, double t, const void *about, double lab[3])
{
    (void)about;
    lab[0] = 40 + 0.5 * synthetic_noise((unsigned)(4 * s), (unsigned)(4 * t));
    lab[1] = 8;
    lab[2] = 18;
}

void drawn_zone(double length, double width, double cell, synthetic_zone *out)
{
    synthetic_zone_make(synthetic_strip_of(length, width, cell, plain, NULL), out);
}
