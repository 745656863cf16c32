/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/grey_places.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "measure/spread.h"

static const double window_mm = 1; /* averaged along the strands */
static const double natural_quantile = 0.1;
static const double least_rest = 0.1; /* of the variance, beside shade's */

bool tdm_grey_places_make(size_t room, tdm_grey_places *out)
{
    *out = (tdm_grey_places){.xyz = malloc(3 * room * sizeof *out->xyz),
                             .light = malloc(room * sizeof *out->light),
                             .spare = malloc(room * sizeof *out->spare)};
    return out->xyz && out->light && out->spare;
}

void tdm_grey_places_free(tdm_grey_places *it)
{
    free(it->xyz);
    free(it->light);
    free(it->spare);
}

static void add_window(const tdm_strip *strip, size_t from, size_t to, size_t col, tdm_grey_places *into)
{
    double sum[3] = {0, 0, 0}, cells = 0;
    for (size_t row = from; row < to; row++) {
        const size_t cell = row * strip->cols + col;
        for (size_t k = 0; strip->use[cell] && k < 3; k++)
            sum[k] += (double)strip->xyz[3 * cell + k];
        cells += strip->use[cell];
    }
    if (cells < 0.5 * (double)(to - from) || !(sum[1] > 0))
        return;
    for (size_t k = 0; k < 3; k++)
        into->xyz[3 * into->count + k] = sum[k] / cells;
    into->light[into->count++] = sum[1] / cells;
}

void tdm_grey_gather(const tdm_strip *strip, size_t from, size_t to, tdm_grey_places *into)
{
    const size_t window = (size_t)fmax(window_mm / strip->cell + 0.5, 1);
    into->count = 0;
    for (size_t row = from; row + window <= to; row += window) {
        for (size_t col = 0; col < strip->cols; col++)
            add_window(strip, row, row + window, col, into);
    }
}

static double quantile_of(const tdm_grey_places *of, double q)
{
    memcpy(of->spare, of->light, of->count * sizeof *of->spare);
    return tdm_quantile(of->spare, of->count, q);
}

/* Mean of the places with luminances in [low, high]; how many. */
static size_t mean_within(const tdm_grey_places *of, double low, double high, double xyz[3])
{
    size_t count = 0;
    xyz[0] = xyz[1] = xyz[2] = 0;
    for (size_t i = 0; i < of->count; i++) {
        if (of->light[i] < low || of->light[i] > high)
            continue;
        for (size_t k = 0; k < 3; k++)
            xyz[k] += of->xyz[3 * i + k];
        count++;
    }
    for (size_t k = 0; k < 3; k++)
        xyz[k] /= (double)count;
    return count;
}

void tdm_grey_natural(const tdm_grey_places *of, const tdm_grey_mix *mix, double xyz[3])
{
    (void)mean_within(of, 0, fmax(mix->natural, quantile_of(of, natural_quantile)), xyz);
    const double times = mix->natural / xyz[1];
    for (size_t k = 0; k < 3; k++)
        xyz[k] *= times;
}

/* A common factor s with E s = 1 adds var(s) E(c Y) to the covariance of a colour c with its Y. */
bool tdm_grey_lightened(const tdm_grey_places *of, const tdm_grey_mix *mix, double white, double xyz[3])
{
    double mean[3], with_light[3] = {0, 0, 0};
    const double factor = exp(mix->shade * mix->shade) - 1;
    const double count = (double)mean_within(of, 0, INFINITY, mean);
    for (size_t i = 0; i < of->count; i++) {
        for (size_t k = 0; k < 3; k++)
            with_light[k] += of->xyz[3 * i + k] * of->light[i] / count;
    }
    const double varied = with_light[1] - mean[1] * mean[1];
    const double rest = varied - factor / (1 + factor) * with_light[1];
    if (!(rest > least_rest * varied))
        return false;
    for (size_t k = 0; k < 3; k++) {
        const double shared = with_light[k] - mean[k] * mean[1] - factor / (1 + factor) * with_light[k];
        xyz[k] = mean[k] + shared / rest * (white - mean[1]);
    }
    return true;
}
