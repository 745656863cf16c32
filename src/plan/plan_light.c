/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "colour/lab.h"
#include "measure/spread.h"
#include "plan/plan_parts.h"

/* The scatter of a strand's own colour about that of its kind: half of the light strands are darker than
 * their mean and no less light. A level is told in halves. Choice. */
static const double below_lights = 0.5;
static const double tail = 0.05;      /* of the light hair beyond either end of the stretch that is given */
static const double share_left = 0.1; /* that a share of strands has been found to leave, as in the reading */

bool tdm_plan_is_light(const tdm_hair *hair, size_t cell, double light_from)
{
    return hair->strip.use[cell] && (double)hair->body[3 * cell + 1] >= light_from;
}

/* Luminance of a level; NaN in, NaN out. */
static double luminance(const tdm_level_scale *scale, double level)
{
    double xyz[3];
    const double lab[3] = {tdm_level_to_lstar(scale, level), 0, 0};
    tdm_lab_to_xyz(lab, xyz);
    return xyz[1];
}

static double under(const tdm_level_scale *scale, double lstar)
{
    return round(10 * (tdm_level_from_lstar(scale, lstar) - below_lights)) / 10; /* as it is shown */
}

/* Half a level below the lights; without them below the lengths, where these have been lightened. */
static double own_target(const tdm_hair *hair, const struct tdm_zone_reading *reading,
                         const tdm_level_scale *scale)
{
    if (reading->strands.separable)
        return under(scale, reading->strands.light_lab[0]);
    if (hair->lengths_lab[0] - hair->root_lab[0] > TDM_JND_LAB)
        return under(scale, hair->lengths_lab[0]);
    return NAN;
}

tdm_light_hair tdm_light_unknown(void)
{
    return (tdm_light_hair){.target_level = NAN,
                            .share = {.value = NAN, .u = NAN},
                            .root_share = NAN,
                            .mid_share = NAN,
                            .ends_share = NAN,
                            .from_mm = NAN,
                            .to_mm = NAN};
}

typedef struct cells {
    double all, light;
} cells;

static cells count_rows(const tdm_hair *hair, size_t from, size_t to, double light_from)
{
    cells counted = {0, 0};
    for (size_t cell = from * hair->strip.cols; cell < to * hair->strip.cols; cell++) {
        counted.all += hair->strip.use[cell];
        counted.light += tdm_plan_is_light(hair, cell, light_from);
    }
    return counted;
}

static double share_of(cells counted)
{
    return counted.all > 0 ? counted.light / counted.all : NAN;
}

static double whole_share(const tdm_hair *hair, double light_from)
{
    return share_of(count_rows(hair, 0, hair->strip.rows, light_from));
}

/* The reading's root, mid-lengths and ends. */
static void put_parts(const tdm_hair *hair, double light_from, tdm_light_hair *out)
{
    const tdm_strip *strip = &hair->strip;
    const size_t rows = strip->rows;
    const size_t part = (size_t)fmax(fmin(0.1 * strip->length, 20) / strip->cell + 0.5, 1);
    const size_t end = part < rows ? part : rows;
    out->root_share = share_of(count_rows(hair, 0, end, light_from));
    out->mid_share = share_of(count_rows(hair, rows / 3, rows - rows / 3, light_from));
    out->ends_share = share_of(count_rows(hair, rows - end, rows, light_from));
}

/* Where a share of all the light cells has been passed, from the root on. */
static double passed(const tdm_hair *hair, double light_from, double total, double share)
{
    double gone = 0;
    for (size_t row = 0; row < hair->strip.rows; row++) {
        const double here = count_rows(hair, row, row + 1, light_from).light;
        if (here > 0 && gone + here >= share * total)
            return ((double)row + (share * total - gone) / here) * hair->strip.cell;
        gone += here;
    }
    return NAN;
}

static void put_places(const tdm_hair *hair, double light_from, tdm_light_hair *out)
{
    const double total = count_rows(hair, 0, hair->strip.rows, light_from).light;
    if (!hair->strip.scaled || total <= 0)
        return;
    out->from_mm = hair->strip.root + passed(hair, light_from, total, tail);
    out->to_mm = hair->strip.root + passed(hair, light_from, total, 1 - tail);
}

void tdm_plan_light(const tdm_hair *hair, const struct tdm_zone_reading *reading,
                    const tdm_level_scale *scale, double target_level, tdm_planned_zone *out)
{
    tdm_light_hair *light = &out->about.light;
    *light = tdm_light_unknown();
    light->target_level = isfinite(target_level) ? target_level : own_target(hair, reading, scale);
    out->light_from = luminance(scale, light->target_level);
    if (!isfinite(out->light_from))
        return;
    /* How much the share would be, were all levels wrong by u. */
    const double u = reading->overall.level.u;
    const double more = whole_share(hair, luminance(scale, light->target_level - u));
    const double less = whole_share(hair, luminance(scale, light->target_level + u));
    light->share.value = whole_share(hair, out->light_from);
    light->share.u = tdm_quadrature(0.5 * (more - less), 2 * share_left);
    put_parts(hair, out->light_from, light);
    put_places(hair, out->light_from, light);
}
