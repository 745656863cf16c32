/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/strand_gradient.h"

#include <gsl/gsl_math.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"

static const double sigma_mm = 0.3, least_sigma_cells = 1.2; /* below it the samples aren't a Gaussian */
static const double broad_mm = 16;                           /* what is wider across isn't strands */

enum { VALUE, USE, VALUE_ACROSS, USE_ACROSS }; /* planes */
enum { SUM_VALUE, SUM_USE, SUM_VALUE_ACROSS, SUM_USE_ACROSS, SUM_VALUE_ALONG, SUM_USE_ALONG };

static bool make_taps(double sigma, tdm_gradient *out)
{
    out->reach = (size_t)ceil(4 * sigma);
    const size_t taps = 2 * out->reach + 1;
    out->smooth = malloc(taps * sizeof *out->smooth);
    out->slope = malloc(taps * sizeof *out->slope);
    if (!out->smooth || !out->slope)
        return false;
    for (size_t k = 0; k < taps; k++) {
        const double far = (double)k - (double)out->reach;
        const double weight = exp(-0.5 * far * far / (sigma * sigma)) / (sigma * sqrt(2 * M_PI));
        out->smooth[k] = (float)weight;
        out->slope[k] = (float)(far / (sigma * sigma) * weight); /* rises with what comes after */
    }
    return true;
}

/* Value less its running mean across; 0 where not used. `before`: cols + 1 sums of L* and of use. */
static void free_of_broad(const tdm_strip *strip, size_t row, size_t half, double *before, float *value,
                          float *use)
{
    const size_t cols = strip->cols;
    double *counted = before + cols + 1;
    before[0] = counted[0] = 0;
    for (size_t j = 0; j < cols; j++) {
        const size_t cell = row * cols + j;
        const bool used = strip->use[cell];
        use[j] = used ? 1 : 0;
        value[j] = used ? strip->lab[3 * cell] : 0;
        before[j + 1] = before[j] + (double)value[j];
        counted[j + 1] = counted[j] + (double)use[j];
    }
    for (size_t j = 0; j < cols; j++) {
        const size_t from = j > half ? j - half : 0, to = j + half < cols ? j + half + 1 : cols;
        if (use[j] > 0)
            value[j] -= (float)((before[to] - before[from]) / (counted[to] - counted[from]));
    }
}

/* padded: a row with `reach` zeros before and behind. */
static void weigh(const float *padded, size_t cols, const float *taps, size_t count, float *out)
{
    memset(out, 0, cols * sizeof *out);
    for (size_t k = 0; k < count; k++) {
        for (size_t j = 0; j < cols; j++)
            out[j] += taps[k] * padded[j + k];
    }
}

static bool allocate(tdm_gradient *out)
{
    bool all = true;
    for (int i = 0; i < 4; i++)
        all &= (out->plane[i] = malloc((out->rows * out->cols + 1) * sizeof(float))) != NULL;
    for (int i = 0; i < 6; i++)
        all &= (out->sum[i] = malloc((out->cols + 1) * sizeof(float))) != NULL;
    return all;
}

static tdm_code along_rows(const tdm_strip *strip, tdm_gradient *out, tdm_error *error)
{
    const size_t taps = 2 * out->reach + 1, cols = out->cols;
    const size_t half = (size_t)fmax(0.5 * broad_mm / strip->cell, (double)(4 * out->reach));
    float *value = calloc(2 * (cols + taps), sizeof *value);
    double *before = malloc(2 * (cols + 1) * sizeof *before);
    if (value && before) {
        float *use = value + cols + taps;
        for (size_t i = 0; i < out->rows; i++) {
            free_of_broad(strip, i, half, before, value + out->reach, use + out->reach);
            weigh(value, cols, out->smooth, taps, out->plane[VALUE] + i * cols);
            weigh(use, cols, out->smooth, taps, out->plane[USE] + i * cols);
            weigh(value, cols, out->slope, taps, out->plane[VALUE_ACROSS] + i * cols);
            weigh(use, cols, out->slope, taps, out->plane[USE_ACROSS] + i * cols);
        }
    }
    const bool made = value && before;
    free(value);
    free(before);
    return made ? TDM_OK : tdm_fail_memory(error, NULL);
}

tdm_code tdm_gradient_make(const tdm_strip *strip, tdm_gradient *out, tdm_error *error)
{
    tdm_gradient gradient = {.rows = strip->rows, .cols = strip->cols};
    tdm_code code =
        make_taps(fmax(sigma_mm / strip->cell, least_sigma_cells), &gradient) && allocate(&gradient)
            ? TDM_OK
            : tdm_fail_memory(error, NULL);
    if (code == TDM_OK)
        code = along_rows(strip, &gradient, error);
    if (code != TDM_OK) {
        tdm_gradient_free(&gradient);
        return code;
    }
    *out = gradient;
    return TDM_OK;
}

static void add_times(float weight, const float *from, size_t count, float *to)
{
    for (size_t j = 0; j < count; j++)
        to[j] += weight * from[j];
}

tdm_gradient_row tdm_gradient_at(tdm_gradient *gradient, size_t row)
{
    const size_t cols = gradient->cols, reach = gradient->reach;
    for (int i = 0; i < 6; i++)
        memset(gradient->sum[i], 0, cols * sizeof(float));
    for (size_t k = 0; k <= 2 * reach; k++) {
        if (row + k < reach || row + k - reach >= gradient->rows)
            continue;
        const size_t from = (row + k - reach) * cols;
        for (int i = 0; i < 4; i++)
            add_times(gradient->smooth[k], gradient->plane[i] + from, cols, gradient->sum[i]);
        add_times(gradient->slope[k], gradient->plane[VALUE] + from, cols, gradient->sum[SUM_VALUE_ALONG]);
        add_times(gradient->slope[k], gradient->plane[USE] + from, cols, gradient->sum[SUM_USE_ALONG]);
    }
    /* The quotient's derivative; it takes the place of the value's. */
    float *across = gradient->sum[SUM_VALUE_ACROSS], *along = gradient->sum[SUM_VALUE_ALONG];
    for (size_t j = 0; j < cols; j++) {
        const float use = gradient->sum[SUM_USE][j], value = gradient->sum[SUM_VALUE][j];
        const float over = use > 0.01F ? 1 / (use * use) : 0;
        across[j] = over * (across[j] * use - value * gradient->sum[SUM_USE_ACROSS][j]);
        along[j] = over * (along[j] * use - value * gradient->sum[SUM_USE_ALONG][j]);
    }
    return (tdm_gradient_row){.along = along, .across = across, .use = gradient->sum[SUM_USE]};
}

void tdm_gradient_free(tdm_gradient *gradient)
{
    free(gradient->smooth);
    free(gradient->slope);
    for (int i = 0; i < 4; i++)
        free(gradient->plane[i]);
    for (int i = 0; i < 6; i++)
        free(gradient->sum[i]);
    *gradient = (tdm_gradient){0};
}
