/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/zone_contrast.h"

#include <math.h>

/* Sum of the shares of the picked zones that have the figure. */
static double weight_of(const tdm_head_zones *all, const tdm_figure *figure, tdm_zone_pick pick,
                        const void *about)
{
    double sum = 0;
    tdm_value value;
    for (size_t i = 0; i < all->count; i++) {
        if (pick(&all->zones[i], about) && tdm_zone_value(&all->zones[i], figure, &value))
            sum += all->shares[i];
    }
    return sum;
}

static bool is_shared(int part)
{
    return part == TDM_PART_CALIBRATION || part == TDM_PART_SCALE || part == TDM_PART_PLANE ||
           part == TDM_PART_DATE;
}

static void add(const struct tdm_zone_reading *zone, const tdm_figure *figure, double coefficient,
                tdm_budget *sums)
{
    tdm_budget here;
    if (!tdm_zone_budget(zone, figure, &here))
        here = (tdm_budget){.part = {NAN}}; /* a zone that counts, and whose u isn't known */
    for (int k = 0; k < TDM_PARTS; k++) {
        const double part = coefficient * here.part[k];
        sums->part[k] += is_shared(k) ? part : part * part;
    }
}

bool tdm_zone_contrast(const tdm_head_zones *all, const tdm_figure *figure, tdm_zone_pick of,
                       const void *of_about, tdm_zone_pick against, const void *against_about, double *value,
                       tdm_budget *parts)
{
    const double ours = weight_of(all, figure, of, of_about);
    const double theirs = weight_of(all, figure, against, against_about);
    tdm_budget sums = {{0}};
    double difference = 0;
    if (!(ours > 0 && theirs > 0))
        return false;
    for (size_t i = 0; i < all->count; i++) {
        const struct tdm_zone_reading *zone = &all->zones[i];
        tdm_value here;
        if (!(all->shares[i] > 0) || !tdm_zone_value(zone, figure, &here))
            continue;
        const double coefficient = (of(zone, of_about) ? all->shares[i] / ours : 0) -
                                   (against(zone, against_about) ? all->shares[i] / theirs : 0);
        if (coefficient == 0)
            continue;
        difference += coefficient * here.value;
        add(zone, figure, coefficient, &sums);
    }
    for (int k = 0; k < TDM_PARTS; k++)
        parts->part[k] = is_shared(k) ? fabs(sums.part[k]) : sqrt(sums.part[k]);
    *value = difference;
    return true;
}
