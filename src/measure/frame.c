/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The face frame: zones that weigh more than a zone usually does and more than the lightest here. */
#include <math.h>

#include "measure/evenness_head.h"

static const double usual_weight = 1; /* of a zone for which the marks say nothing */

static bool in_frame(const struct tdm_zone_reading *zone, const void *about)
{
    return zone->weight > *(const double *)about;
}

static bool in_rest(const struct tdm_zone_reading *zone, const void *about)
{
    return !in_frame(zone, about);
}

static void put(const tdm_head_zones *all, const char *path, double weight, struct tdm_zone_reading *head,
                tdm_value *where)
{
    double value;
    tdm_budget parts;
    if (tdm_zone_contrast(all, tdm_figure_find(path), in_frame, &weight, in_rest, &weight, &value, &parts))
        tdm_put(head, where, value, &parts);
}

void tdm_frame_head(const tdm_head_zones *all, struct tdm_zone_reading *head)
{
    double least = INFINITY;
    for (size_t i = 0; i < all->count; i++) {
        if (all->shares[i] > 0)
            least = fmin(least, all->zones[i].weight);
    }
    const double weight = fmax(least, usual_weight);
    put(all, "mid.lstar", weight, head, &head->frame.lstar_above_rest);
    put(all, "mid.level", weight, head, &head->frame.level_above_rest);
    put(all, "strands.light_share", weight, head, &head->frame.share_above_rest);
}
