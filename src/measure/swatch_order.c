/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/swatch_order.h"

#include <math.h>

#include "measure/spread.h"

/* Median slope of all pairs (Theil 1950, Sen 1968) in ln L*, and the median of what is left: a trend that a
 * few wrong swatches don't move. Misfits are squared. */
static void misfits(const double *levels, const double *lstars, size_t count, double *out)
{
    double slopes[TDM_SWATCHES * (TDM_SWATCHES - 1) / 2], rest[TDM_SWATCHES];
    size_t pairs = 0;
    for (size_t i = 0; i < count; i++) {
        for (size_t j = 0; j < i; j++)
            slopes[pairs++] = log(lstars[i] / lstars[j]) / (levels[i] - levels[j]);
    }
    const double slope = tdm_quantile(slopes, pairs, 0.5);
    for (size_t i = 0; i < count; i++)
        rest[i] = out[i] = log(lstars[i]) - slope * levels[i];
    const double start = tdm_quantile(rest, count, 0.5);
    for (size_t i = 0; i < count; i++)
        out[i] = (out[i] - start) * (out[i] - start);
}

typedef struct chain {
    size_t length;
    double misfit;
    size_t before; /* count where it begins here */
} chain;

static bool better(const chain *one, const chain *other)
{
    return one->length > other->length || (one->length == other->length && one->misfit < other->misfit);
}

/* The longest rising chain that ends in each swatch (longest increasing subsequence). */
size_t tdm_swatch_order(const double *levels, const double *lstars, size_t count, bool *rising)
{
    chain chains[TDM_SWATCHES];
    double misfit[TDM_SWATCHES];
    size_t best = 0;
    if (count == 0)
        return 0;
    if (count > 1)
        misfits(levels, lstars, count, misfit);
    else
        misfit[0] = 0;
    for (size_t i = 0; i < count; i++) {
        chains[i] = (chain){.length = 1, .misfit = misfit[i], .before = count};
        for (size_t j = 0; j < i; j++) {
            const chain longer = {chains[j].length + 1, chains[j].misfit + misfit[i], j};
            if (lstars[j] < lstars[i] && better(&longer, &chains[i]))
                chains[i] = longer;
        }
        if (better(&chains[i], &chains[best]))
            best = i;
        rising[i] = false;
    }
    for (size_t i = best; i < count; i = chains[i].before)
        rising[i] = true;
    return count - chains[best].length;
}
