/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/columns.h"

#include <gsl/gsl_sort_float.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <stdlib.h>

#include "base/fail.h"

enum { MOST_BINS = 512 };
static const double trimmed_share = 0.01;

/* Luminances between which a row's cells are kept. */
static void trim_limits(const tdm_strip *strip, size_t row, float *scratch, float *low, float *high)
{
    size_t count = 0;
    for (size_t col = 0; col < strip->cols; col++) {
        const size_t cell = row * strip->cols + col;
        if (strip->use[cell])
            scratch[count++] = strip->xyz[3 * cell + 1];
    }
    *low = -INFINITY;
    *high = INFINITY;
    const size_t cut = (size_t)(trimmed_share * (double)count);
    if (cut == 0)
        return;
    gsl_sort_float(scratch, 1, count);
    *low = scratch[cut];
    *high = scratch[count - 1 - cut];
}

static void add_row(const tdm_strip *strip, size_t row, size_t block_cells, float low, float high,
                    double *sum, double *cells, size_t blocks)
{
    for (size_t col = 0; col < strip->cols; col++) {
        const size_t cell = row * strip->cols + col;
        const float *xyz = strip->xyz + 3 * cell;
        if (!strip->use[cell] || xyz[1] < low || xyz[1] > high)
            continue;
        size_t block = col / block_cells;
        if (block >= blocks)
            block = blocks - 1; /* the last block takes the rest */
        for (int i = 0; i < 3; i++)
            sum[3 * block + (size_t)i] += (double)xyz[i];
        cells[block] += 1;
    }
}

tdm_code tdm_columns_make(const tdm_strip *strip, size_t block_cells, tdm_columns *out, tdm_error *error)
{
    const size_t per_bin = (strip->rows + MOST_BINS - 1) / MOST_BINS;
    tdm_columns columns = {
        .bins = (strip->rows + per_bin - 1) / per_bin,
        .blocks = strip->cols < block_cells ? 1 : strip->cols / block_cells,
        .bin = (double)per_bin * strip->cell,
        .block = (double)block_cells * strip->cell,
    };
    columns.sum = calloc(columns.bins * columns.blocks * 3, sizeof *columns.sum);
    columns.cells = calloc(columns.bins * columns.blocks, sizeof *columns.cells);
    float *scratch = malloc(strip->cols * sizeof *scratch);
    if (!columns.sum || !columns.cells || !scratch) {
        free(scratch);
        tdm_columns_free(&columns);
        return tdm_fail_memory(error, NULL);
    }
    for (size_t row = 0; row < strip->rows; row++) {
        const size_t first = row / per_bin * columns.blocks;
        float low, high;
        trim_limits(strip, row, scratch, &low, &high);
        add_row(strip, row, block_cells, low, high, columns.sum + 3 * first, columns.cells + first,
                columns.blocks);
    }
    free(scratch);
    *out = columns;
    return TDM_OK;
}

void tdm_columns_free(tdm_columns *columns)
{
    free(columns->sum);
    free(columns->cells);
    *columns = (tdm_columns){0};
}

/* Mean L* of each column that has used cells; their count. */
static size_t column_lightness(const tdm_strip *strip, double *lightness)
{
    size_t count = 0;
    for (size_t col = 0; col < strip->cols; col++) {
        double sum = 0, cells = 0;
        for (size_t row = 0; row < strip->rows; row++) {
            const size_t cell = row * strip->cols + col;
            if (strip->use[cell]) {
                sum += (double)strip->lab[3 * cell];
                cells += 1;
            }
        }
        if (cells > 0)
            lightness[count++] = sum / cells;
    }
    return count;
}

static double lag_correlation(const double *values, size_t count, size_t lag, double mean, double variance)
{
    double sum = 0;
    for (size_t i = 0; i + lag < count; i++)
        sum += (values[i] - mean) * (values[i + lag] - mean);
    return sum / (double)(count - lag) / variance;
}

tdm_code tdm_columns_correlation(const tdm_strip *strip, size_t *cells, tdm_error *error)
{
    double *lightness = malloc(strip->cols * sizeof *lightness);
    if (!lightness)
        return tdm_fail_memory(error, NULL);
    const size_t count = column_lightness(strip, lightness);
    size_t least = (size_t)ceil(2.0 / strip->cell);
    const size_t most = strip->cols / 10 > 1 ? strip->cols / 10 : 1;
    if (least < 1)
        least = 1;
    size_t lag = least;
    if (count > 2 * least) {
        const double mean = gsl_stats_mean(lightness, 1, count);
        const double variance = gsl_stats_variance_m(lightness, 1, count, mean);
        /* Below 0.2 neighbours say little of each other; a choice. */
        while (variance > 0 && lag < most && lag_correlation(lightness, count, lag, mean, variance) > 0.2)
            lag++;
    }
    *cells = lag < most ? lag : most;
    free(lightness);
    return TDM_OK;
}

bool tdm_columns_mean(const tdm_columns *columns, size_t from, size_t to, const uint16_t *times,
                      double xyz[3])
{
    double sum[3] = {0, 0, 0}, cells = 0;
    for (size_t i = from * columns->blocks; i < to * columns->blocks; i++) {
        const double drawn = times ? times[i % columns->blocks] : 1;
        cells += drawn * columns->cells[i];
        for (size_t k = 0; k < 3; k++)
            sum[k] += drawn * columns->sum[3 * i + k];
    }
    if (cells <= 0)
        return false;
    for (size_t k = 0; k < 3; k++)
        xyz[k] = sum[k] / cells;
    return true;
}

static double bin_cells(const tdm_columns *columns, size_t bin)
{
    double cells = 0;
    for (size_t block = 0; block < columns->blocks; block++)
        cells += columns->cells[bin * columns->blocks + block];
    return cells;
}

double tdm_columns_fill(const tdm_columns *columns, size_t bin)
{
    double most = 0;
    for (size_t i = 0; i < columns->bins; i++) {
        const double cells = bin_cells(columns, i);
        if (cells > most)
            most = cells;
    }
    return most > 0 ? bin_cells(columns, bin) / most : 0;
}
