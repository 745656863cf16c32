/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/visibility_spread.h"

#include <math.h>
#include <stdlib.h>

#include "base/fail.h"
#include "measure/spread.h"

/* Of the used cells of one row in one block: places along the step. */
typedef struct part {
    double cells, sum, square;
} part;

/* Parts of a stretch of rows: rows * blocks. */
typedef struct parts {
    size_t rows, blocks;
    part *at;
} parts;

static void add(part *to, const part *from, double times)
{
    to->cells += times * from->cells;
    to->sum += times * from->sum;
    to->square += times * from->square;
}

static bool gather(const tdm_seen *seen, const tdm_look *look, tdm_seen_rows rows, size_t blocks,
                   double block, parts *out)
{
    *out = (parts){.rows = rows.to - rows.from, .blocks = blocks};
    out->at = calloc(out->rows * blocks, sizeof *out->at);
    if (!out->at)
        return false;
    for (size_t i = 0; i < out->rows; i++) {
        for (size_t j = 0; j < seen->cols; j++) {
            const size_t cell = (rows.from + i) * seen->cols + j;
            const double across = ((double)j + 0.5) * seen->cell / block;
            const size_t which = across < (double)blocks ? (size_t)across : blocks - 1;
            double place = 0;
            for (size_t k = 0; k < 3; k++)
                place += look->direction[k] * (double)seen->lab[3 * cell + k];
            if (seen->use[cell])
                add(&out->at[i * blocks + which], &(part){1, place, place * place}, 1);
        }
    }
    return true;
}

static double drawn_mean(const parts *rows, const uint16_t *times)
{
    part all = {0};
    for (size_t i = 0; i < rows->rows * rows->blocks; i++)
        add(&all, &rows->at[i], times[i % rows->blocks]);
    return all.cells > 0 ? all.sum / all.cells : (double)NAN;
}

/* Variance about each row's own mean; NaN where nothing was drawn. */
static double drawn_variance(const parts *rows, const uint16_t *times)
{
    double square = 0, free = 0;
    for (size_t i = 0; i < rows->rows; i++) {
        part row = {0};
        for (size_t k = 0; k < rows->blocks; k++)
            add(&row, &rows->at[i * rows->blocks + k], times[k]);
        if (row.cells <= 1)
            continue;
        square += row.square - row.sum * row.sum / row.cells;
        free += row.cells - 1;
    }
    return free > 0 ? fmax(square / free, 0) : (double)NAN;
}

/* patch and plain: two each, root's side first. */
static double drawn_dprime(const parts *patch, const parts *plain, const uint16_t *times)
{
    const double step = drawn_mean(&patch[1], times) - drawn_mean(&patch[0], times);
    double variance = 0, sides = 0;
    for (int side = 0; side < 2; side++) {
        const double here = drawn_variance(&plain[side], times);
        if (isfinite(here)) {
            variance += here;
            sides += 1;
        }
    }
    return step / fmax(sides > 0 ? sqrt(variance / sides) : 0, TDM_JND_LAB);
}

static double spread_of(const parts all[4], const tdm_resampling *resampling, double *values)
{
    size_t count = 0;
    for (size_t i = 0; i < resampling->resamples; i++) {
        const double value = drawn_dprime(all, all + 2, resampling->times + i * resampling->blocks);
        if (isfinite(value))
            values[count++] = value;
    }
    return tdm_half_range(values, count);
}

tdm_code tdm_look_spread(const tdm_seen *seen, const tdm_look *look, const tdm_resampling *resampling,
                         double block, double *u, tdm_error *error)
{
    *u = NAN;
    if (!isfinite(look->dprime) || resampling->resamples == 0)
        return TDM_OK;
    const tdm_seen_rows rows[4] = {look->patch[0], look->patch[1], look->plain[0], look->plain[1]};
    parts all[4] = {{0}};
    double *values = malloc(resampling->resamples * sizeof *values);
    bool made = values != NULL;
    for (int k = 0; made && k < 4; k++)
        made = gather(seen, look, rows[k], resampling->blocks, block, &all[k]);
    if (made)
        *u = spread_of(all, resampling, values);
    for (int k = 0; k < 4; k++)
        free(all[k].at);
    free(values);
    return made ? TDM_OK : tdm_fail_memory(error, NULL);
}
