/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/synthetic.h"

#include <check.h>
#include <gsl/gsl_cdf.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "colour/lab.h"

double synthetic_noise(unsigned i, unsigned j)
{
    uint64_t x = ((uint64_t)i << 32 | j) + UINT64_C(0x9e3779b97f4a7c15);
    x = (x ^ (x >> 30)) * UINT64_C(0xbf58476d1ce4e5b9); /* splitmix64 */
    x = (x ^ (x >> 27)) * UINT64_C(0x94d049bb133111eb);
    x ^= x >> 31;
    return gsl_cdf_ugaussian_Pinv(((double)(x >> 11) + 0.5) / 9007199254740992.0);
}

tdm_strip synthetic_strip(double length, double width, synthetic_colour colour, const void *about)
{
    return synthetic_strip_of(length, width, 0.25, colour, about);
}

tdm_strip synthetic_strip_of(double length, double width, double cell, synthetic_colour colour,
                             const void *about)
{
    tdm_strip strip = {.scaled = true, .cell = cell, .length = length, .width = width, .cell_px = 10 * cell};
    strip.rows = (size_t)(length / strip.cell + 0.5);
    strip.cols = (size_t)(width / strip.cell + 0.5);
    strip.used_share = 1;
    const size_t cells = strip.rows * strip.cols;
    strip.xyz = calloc(3 * cells, sizeof *strip.xyz);
    strip.lab = calloc(3 * cells, sizeof *strip.lab);
    strip.use = malloc(cells);
    ck_assert(strip.xyz && strip.lab && strip.use);
    memset(strip.use, 1, cells);
    for (size_t i = 0; i < cells; i++) {
        double lab[3], xyz[3];
        colour(((double)(i / strip.cols) + 0.5) * strip.cell, ((double)(i % strip.cols) + 0.5) * strip.cell,
               about, lab);
        tdm_lab_to_xyz(lab, xyz);
        for (size_t k = 0; k < 3; k++) {
            strip.xyz[3 * i + k] = (float)xyz[k];
            strip.lab[3 * i + k] = (float)lab[k];
        }
    }
    return strip;
}

void synthetic_zone_make(tdm_strip strip, synthetic_zone *out)
{
    memset(out, 0, sizeof *out);
    tdm_error error = {0};
    size_t block = 0;
    out->strip = strip;
    out->scale = tdm_level_scale_default();
    ck_assert_int_eq(tdm_columns_correlation(&out->strip, &block, &error), TDM_OK);
    ck_assert_int_eq(tdm_columns_make(&out->strip, block, &out->columns, &error), TDM_OK);
    ck_assert_int_eq(tdm_resampling_make(100, out->columns.blocks, 1, &out->resampling, &error), TDM_OK);
    ck_assert_int_eq(tdm_fall_make(&out->strip, &out->columns, &out->fall, &error), TDM_OK);
    out->input = (tdm_measure_input){.zone = "zone",
                                     .strip = &out->strip,
                                     .columns = &out->columns,
                                     .resampling = &out->resampling,
                                     .fall = &out->fall,
                                     .sources = &out->sources,
                                     .scale = &out->scale};
    tdm_zone_reading_init(&out->reading);
}

void synthetic_zone_free(synthetic_zone *zone)
{
    tdm_zone_reading_clear(&zone->reading);
    tdm_warnings_free(&zone->warnings);
    tdm_fall_free(&zone->fall);
    tdm_resampling_free(&zone->resampling);
    tdm_columns_free(&zone->columns);
    free(zone->strip.xyz);
    free(zone->strip.lab);
    free(zone->strip.use);
}
