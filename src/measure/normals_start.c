/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/normals_start.h"

#include <math.h>

enum { BINS = 64 };                    /* between the least and the greatest value */
static const double small_share = 0.1; /* of a third part in a start */

/* Sums of the bins before each; cumulated[BINS] is of all. False where all values are alike. */
static bool cumulate(const tdm_weighted *of, tdm_moments cumulated[BINS + 1])
{
    double low = INFINITY, high = -INFINITY;
    for (size_t i = 0; i < of->count; i++) {
        if (of->weights[i] > 0) {
            low = fmin(low, of->values[i]);
            high = fmax(high, of->values[i]);
        }
    }
    for (size_t i = 0; i <= BINS; i++)
        cumulated[i] = (tdm_moments){0, 0, 0};
    if (!(high >= low))
        return false;
    for (size_t i = 0; i < of->count; i++) {
        if (!(of->weights[i] > 0))
            continue;
        const double at = high > low ? ceil(BINS * ((of->values[i] - low) / (high - low))) : 1;
        tdm_moments_add(cumulated + (size_t)fmin(fmax(at, 1), BINS), of->weights[i], of->values[i]);
    }
    for (size_t i = 1; i <= BINS; i++) {
        cumulated[i].weight += cumulated[i - 1].weight;
        cumulated[i].first += cumulated[i - 1].first;
        cumulated[i].second += cumulated[i - 1].second;
    }
    return true;
}

static tdm_moments between(const tdm_moments *cumulated, size_t from, size_t to)
{
    return (tdm_moments){cumulated[to].weight - cumulated[from].weight,
                         cumulated[to].first - cumulated[from].first,
                         cumulated[to].second - cumulated[from].second};
}

/* What the variance between the parts grows with; -INFINITY for an empty part. */
static double spread_between(const tdm_moments *parts, size_t count, double mean)
{
    double sum = 0;
    for (size_t k = 0; k < count; k++) {
        if (!(parts[k].weight > 0))
            return -INFINITY;
        const double far = parts[k].first / parts[k].weight - mean;
        sum += parts[k].weight * far * far;
    }
    return sum;
}

bool tdm_normals_start(const tdm_weighted *of, size_t parts, tdm_normals *out)
{
    tdm_moments cumulated[BINS + 1], best_sums[TDM_NORMALS_MOST];
    double best = -INFINITY;
    if (!cumulate(of, cumulated))
        return false;
    const double mean = cumulated[BINS].first / cumulated[BINS].weight;
    /* Cuts before bins i <= j; with fewer parts the later ones stand at the end. */
    const size_t last_i = parts > 1 ? BINS - 1 : BINS, last_j = parts > 2 ? BINS - 1 : BINS;
    for (size_t i = parts > 1 ? 1 : BINS; i <= last_i; i++) {
        for (size_t j = parts > 2 ? i + 1 : BINS; j <= last_j; j++) {
            const tdm_moments sums[TDM_NORMALS_MOST] = {between(cumulated, 0, i), between(cumulated, i, j),
                                                        between(cumulated, j, BINS)};
            const double spread = spread_between(sums, parts, mean);
            if (spread > best) {
                best = spread;
                for (size_t k = 0; k < parts; k++)
                    best_sums[k] = sums[k];
            }
        }
    }
    return isfinite(best) && tdm_normals_settle(best_sums, parts, of->least_sd, out);
}

/* Two parts and a small one at `mean`, in the order of their means. */
static tdm_normals with_third(const tdm_normals *two, double mean)
{
    tdm_normals out = {.parts = 3, .sd = two->sd};
    size_t k = 0;
    bool placed = false;
    for (size_t i = 0; i < 2; i++) {
        if (!placed && mean < two->mean[i]) {
            out.mean[k] = mean;
            out.share[k++] = small_share;
            placed = true;
        }
        out.mean[k] = two->mean[i];
        out.share[k++] = (1 - small_share) * two->share[i];
    }
    if (!placed) {
        out.mean[k] = mean;
        out.share[k] = small_share;
    }
    return out;
}

size_t tdm_normals_starts(const tdm_weighted *of, size_t parts, tdm_normals out[TDM_NORMALS_STARTS])
{
    size_t count = tdm_normals_start(of, parts, out) ? 1 : 0;
    tdm_normals two;
    if (parts < 3 || !tdm_normals_fit(of, 2, &two))
        return count;
    const double places[] = {two.mean[0] - 2 * two.sd, 0.5 * (two.mean[0] + two.mean[1]),
                             two.mean[1] + 2 * two.sd};
    for (size_t i = 0; i < 3; i++)
        out[count++] = with_third(&two, places[i]);
    return count;
}
