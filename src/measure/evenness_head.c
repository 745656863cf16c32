/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How alike a head's zones are. */
#include "measure/evenness_head.h"

#include <math.h>
#include <string.h>

#include "colour/lab.h"

static bool any(const struct tdm_zone_reading *zone, const void *about)
{
    (void)zone;
    (void)about;
    return true;
}

static bool same(const struct tdm_zone_reading *zone, const void *about)
{
    return zone == about;
}

static bool on_side(const struct tdm_zone_reading *zone, const void *about)
{
    return zone->side && strcmp(zone->side, about) == 0;
}

/* How many of the zones that were read have the figure. */
static size_t having(const tdm_head_zones *all, const tdm_figure *figure)
{
    size_t count = 0;
    tdm_value value;
    for (size_t i = 0; i < all->count; i++)
        count += all->shares[i] > 0 && tdm_zone_value(&all->zones[i], figure, &value);
    return count;
}

/* The zone furthest from the mean of all. */
static void put_between(const tdm_head_zones *all, const char *path, struct tdm_zone_reading *head,
                        tdm_value *where)
{
    const tdm_figure *figure = tdm_figure_find(path);
    double most = -1;
    tdm_budget of_most = {{0}};
    if (having(all, figure) < 2)
        return;
    for (size_t i = 0; i < all->count; i++) {
        const struct tdm_zone_reading *zone = &all->zones[i];
        double value;
        tdm_budget parts;
        if (tdm_zone_contrast(all, figure, same, zone, any, NULL, &value, &parts) && fabs(value) > most) {
            most = fabs(value);
            of_most = parts;
        }
    }
    if (most >= 0)
        tdm_put(head, where, most, &of_most);
}

/* A CIEDE2000 is at most about as uncertain as the L* of its colours: its weighting functions are 1 or more.
 */
static void put_between_colour(const tdm_head_zones *all, struct tdm_zone_reading *head)
{
    const tdm_figure *colour = tdm_figure_find("ends.lab"), *lightness = tdm_figure_find("ends.lstar");
    double mean[3], most = -1;
    tdm_budget of_most = {{0}};
    if (having(all, lightness) < 2 || !tdm_zone_lab(head, colour, mean))
        return;
    for (size_t i = 0; i < all->count; i++) {
        double lab[3], value;
        tdm_budget parts;
        if (!tdm_zone_lab(&all->zones[i], colour, lab) ||
            !tdm_zone_contrast(all, lightness, same, &all->zones[i], any, NULL, &value, &parts))
            continue;
        if (tdm_de00(lab, mean) > most) {
            most = tdm_de00(lab, mean);
            of_most = parts;
        }
    }
    if (most >= 0)
        tdm_put(head, &head->evenness.between_de00, most, &of_most);
}

static void put_left_right(const tdm_head_zones *all, const char *path, struct tdm_zone_reading *head,
                           tdm_value *where)
{
    double value;
    tdm_budget parts;
    if (tdm_zone_contrast(all, tdm_figure_find(path), on_side, "left", on_side, "right", &value, &parts))
        tdm_put(head, where, value, &parts);
}

/* The head's warmest patch is that of the zone that has it. */
static void put_warmth(const tdm_head_zones *all, struct tdm_zone_reading *head)
{
    const tdm_figure *figure = tdm_figure_find("evenness.warmth");
    const struct tdm_zone_reading *warmest = NULL;
    for (size_t i = 0; i < all->count; i++) {
        const struct tdm_zone_reading *zone = &all->zones[i];
        tdm_value here;
        if (all->shares[i] > 0 && tdm_zone_value(zone, figure, &here) &&
            (!warmest || here.value > warmest->evenness.warmth.value))
            warmest = zone;
    }
    if (!warmest)
        return;
    const tdm_budget parts = tdm_budget_of(warmest, &warmest->evenness.warmth);
    tdm_put(head, &head->evenness.warmth, warmest->evenness.warmth.value, &parts);
}

void tdm_evenness_head(const tdm_head_zones *all, struct tdm_zone_reading *head)
{
    put_warmth(all, head);
    put_between_colour(all, head);
    put_between(all, "ends.lstar", head, &head->evenness.between_lstar);
    put_between(all, "ends.level", head, &head->evenness.between_level);
    put_between(all, "root.level", head, &head->evenness.between_root_level);
    put_between(all, "strands.light_share", head, &head->evenness.between_share);
    put_between(all, "strands.contrast_lstar", head, &head->evenness.between_contrast);
    put_left_right(all, "ends.lstar", head, &head->evenness.left_right_lstar);
    put_left_right(all, "ends.level", head, &head->evenness.left_right_level);
    put_left_right(all, "root.level", head, &head->evenness.left_right_root_level);
    put_left_right(all, "strands.light_share", head, &head->evenness.left_right_share);
    put_left_right(all, "strands.contrast_lstar", head, &head->evenness.left_right_contrast);
    put_left_right(all, "gradient.centre_mm", head, &head->evenness.left_right_centre_mm);
}
