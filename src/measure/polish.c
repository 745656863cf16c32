/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/polish.h"

#include <math.h>

#include "measure/spread.h"

static const double least_share = 0.25; /* of the known ones in a row */
enum { SWEEPS = 4 };                    /* more change nothing that counts */

/* Takes the median of `count` values, `step` apart, from them. Where too few are left to look at, all are. */
static void sweep(double *values, const uint8_t *without, size_t count, size_t step, double *scratch)
{
    size_t known = 0, looked_at = 0;
    for (size_t i = 0; i < count; i++)
        known += isfinite(values[i * step]) ? 1 : 0;
    for (size_t i = 0; i < count; i++) {
        if (isfinite(values[i * step]) && !(without && without[i * step]))
            scratch[looked_at++] = values[i * step];
    }
    if (without && (double)looked_at < least_share * (double)known) {
        sweep(values, NULL, count, step, scratch);
        return;
    }
    if (known == 0)
        return;
    const double median = tdm_quantile(scratch, looked_at, 0.5);
    for (size_t i = 0; i < count; i++)
        values[i * step] -= median; /* NaN stays NaN */
}

void tdm_polish(double *values, const uint8_t *without, size_t rows, size_t cols, double *scratch)
{
    for (int round = 0; round < SWEEPS; round++) {
        for (size_t row = 0; row < rows; row++)
            sweep(values + row * cols, without ? without + row * cols : NULL, cols, 1, scratch);
        for (size_t col = 0; col < cols; col++)
            sweep(values + col, without ? without + col : NULL, rows, cols, scratch);
    }
}
