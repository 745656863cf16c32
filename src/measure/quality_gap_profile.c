/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/quality_gap_profile.h"

#include <math.h>

static const double finest = 0.25;     /* px a bin */
static const double search_step = 0.5; /* px */

void tdm_gap_gather(const tdm_view *view, const tdm_gap *gap, double reach, double length,
                    tdm_gap_profile *out)
{
    const double low = gap->from - reach, high = gap->to + reach;
    const double step = fmax(finest, (high - low) / TDM_GAP_BINS);
    double place[TDM_GAP_BINS] = {0}, light[TDM_GAP_BINS] = {0}, number[TDM_GAP_BINS] = {0};
    for (uint32_t row = 0; row < view->rect.height; row++) {
        for (uint32_t column = 0; column < view->rect.width; column++) {
            const double dx = view->rect.x + column + 0.5 - gap->x, dy = view->rect.y + row + 0.5 - gap->y;
            const double across = dx * gap->normal[0] + dy * gap->normal[1];
            const double along = dy * gap->normal[0] - dx * gap->normal[1];
            const double bin = (across - low) / step;
            if (!(fabs(along) <= length / 2 && bin >= 0 && bin < TDM_GAP_BINS && across < high))
                continue;
            place[(size_t)bin] += across;
            light[(size_t)bin] += (double)view->light[(size_t)row * view->rect.width + column];
            number[(size_t)bin]++;
        }
    }
    double pixels = 0;
    out->count = 0;
    for (size_t i = 0; i < TDM_GAP_BINS; i++) {
        if (number[i] == 0)
            continue;
        out->at[out->count] = place[i] / number[i];
        out->light[out->count] = light[i] / number[i];
        out->weight[out->count++] = number[i];
        pixels += number[i];
    }
    out->weight[out->count] = pixels;
}

/* Sums over the profile's bins up to one: weight, weighted light and its square. */
typedef struct sums {
    double weight, light, square;
} sums;

static sums sum_of(const tdm_gap_profile *seen, double from, double to)
{
    sums out = {0, 0, 0};
    for (size_t i = 0; i < seen->count; i++) {
        if (seen->at[i] < from || seen->at[i] >= to)
            continue;
        out.weight += seen->weight[i];
        out.light += seen->weight[i] * seen->light[i];
        out.square += seen->weight[i] * seen->light[i] * seen->light[i];
    }
    return out;
}

/* Squares about the mean; INFINITY where there is nothing. */
static double squares_of(const sums *all)
{
    return all->weight > 0 ? fmax(all->square - all->light * all->light / all->weight, 0) : INFINITY;
}

double tdm_gap_find(const tdm_gap_profile *seen, const tdm_gap *gap, double reach, double level[3])
{
    const double most = reach - (gap->to - gap->from) / 2;
    double best = INFINITY, found = 0;
    for (double k = -floor(most / search_step); k * search_step <= most; k++) {
        const double moved = k * search_step;
        const double ends[4] = {-INFINITY, gap->from + moved, gap->to + moved, INFINITY};
        sums part[3];
        double squares = 0;
        for (int i = 0; i < 3; i++) {
            part[i] = sum_of(seen, ends[i], ends[i + 1]);
            squares += squares_of(&part[i]);
        }
        if (squares >= best)
            continue;
        best = squares;
        found = moved;
        for (int i = 0; i < 3; i++)
            level[i] = part[i].light / part[i].weight;
    }
    return isfinite(best) ? found : NAN;
}
