/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/ribbon_stats.h"

#include <math.h>
#include <stdlib.h>

#include "base/fail.h"
#include "measure/spread.h"

/* By value, then by the rest, so that the order doesn't hang on the sort. */
static int compare(const void *a, const void *b)
{
    const tdm_sample *one = a, *other = b;
    if (one->value != other->value)
        return one->value < other->value ? -1 : 1;
    if (one->block != other->block)
        return one->block < other->block ? -1 : 1;
    return (one->weight > other->weight) - (one->weight < other->weight);
}

void tdm_samples_sort(tdm_sample *samples, size_t count)
{
    if (count > 1)
        qsort(samples, count, sizeof *samples, compare);
}

double tdm_samples_quantile(const tdm_sample *samples, size_t count, double q, const uint16_t *times)
{
    double total = 0, below = 0;
    for (size_t i = 0; i < count; i++)
        total += samples[i].weight * (times ? times[samples[i].block] : 1);
    for (size_t i = 0; total > 0 && i < count; i++) {
        below += samples[i].weight * (times ? times[samples[i].block] : 1);
        if (below >= q * total)
            return samples[i].value;
    }
    return NAN;
}

tdm_code tdm_samples_spread(const tdm_sample *samples, size_t count, double q,
                            const tdm_resampling *resampling, double *out, tdm_error *error)
{
    double *drawn = malloc((resampling->resamples + 1) * sizeof *drawn);
    size_t found = 0;
    if (!drawn)
        return tdm_fail_memory(error, NULL);
    for (size_t i = 0; i < resampling->resamples; i++) {
        const double value =
            tdm_samples_quantile(samples, count, q, resampling->times + i * resampling->blocks);
        if (isfinite(value))
            drawn[found++] = value;
    }
    *out = tdm_half_range(drawn, found) / 2;
    free(drawn);
    return TDM_OK;
}

size_t tdm_block_at(const tdm_columns *columns, double across)
{
    const double block = fmin(fmax(across / columns->block, 0), (double)(columns->blocks - 1));
    return (size_t)block;
}
