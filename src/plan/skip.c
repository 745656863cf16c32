/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/skip.h"

#include <math.h>
#include <stdlib.h>

#include "base/fail.h"
#include "colour/lab.h"

static const double window_length = 1; /* free of noise, and a strand aslant by 30 degrees moves 0.6 */
static const double least_light = 0.5; /* share of light hair: more light than dark */

static const tdm_value unknown = {.value = (double)NAN, .u = (double)NAN};

void tdm_skip_map_free(tdm_skip_map *map)
{
    free(map->state);
    *map = (tdm_skip_map){.share = unknown};
}

static tdm_code allocate(tdm_skip_map *map, tdm_error *error)
{
    map->state = calloc(map->windows * map->cols, 1);
    return map->state ? TDM_OK : tdm_fail_memory(error, NULL);
}

static double share_of(double left, double known)
{
    return known > 0 ? left / known : (double)NAN;
}

tdm_code tdm_skip_by_strands(const struct tdm_zone_reading *zone, tdm_skip_map *out, tdm_error *error)
{
    const tdm_strand_map *from = &zone->strands.map;
    double known = 0, left = 0;
    *out = (tdm_skip_map){.share = unknown};
    if (!zone->strands.separable || from->windows * from->cols == 0)
        return TDM_OK;
    tdm_skip_map map = {.windows = from->windows,
                        .cols = from->cols,
                        .from = from->from,
                        .window = from->window,
                        .cell = from->cell};
    const tdm_code code = allocate(&map, error);
    if (code != TDM_OK)
        return code;
    for (size_t i = 0; i < map.windows * map.cols; i++) {
        const double light = (double)from->light[i];
        if (!isfinite(light))
            continue;
        map.state[i] = light >= least_light ? TDM_SKIP_LEAVE : TDM_SKIP_MAY;
        known += 1;
        left += map.state[i] == TDM_SKIP_LEAVE;
    }
    map.share = (tdm_value){.value = share_of(left, known), .u = zone->strands.light_share.u};
    *out = map;
    return TDM_OK;
}

/* Luminance at which a level begins. */
static double luminance(const tdm_level_scale *scale, double level)
{
    double xyz[3];
    const double lab[3] = {tdm_level_to_lstar(scale, level), 0, 0};
    tdm_lab_to_xyz(lab, xyz);
    return xyz[1];
}

/* Mean luminance of one column's used cells in rows [from, to); NaN where there are none. */
static double window_light(const tdm_strip *strip, size_t from, size_t to, size_t col)
{
    double sum = 0, cells = 0;
    for (size_t row = from; row < to; row++) {
        const size_t cell = row * strip->cols + col;
        sum += strip->use[cell] ? (double)strip->xyz[3 * cell + 1] : 0;
        cells += strip->use[cell];
    }
    return share_of(sum, cells);
}

tdm_code tdm_skip_by_level(const tdm_strip *strip, const tdm_level_scale *scale, double level, double level_u,
                           tdm_skip_map *out, tdm_error *error)
{
    const double begins = luminance(scale, level);
    /* How much it would be, were all levels wrong by u. */
    const double lower = luminance(scale, level - level_u), upper = luminance(scale, level + level_u);
    const size_t run = (size_t)fmax(window_length / strip->cell + 0.5, 1);
    double known = 0, left = 0, most = 0, least = 0;
    tdm_skip_map map = {.windows = (strip->rows + run - 1) / run,
                        .cols = strip->cols,
                        .window = (double)run * strip->cell,
                        .cell = strip->cell};
    const tdm_code code = allocate(&map, error);
    if (code != TDM_OK)
        return code;
    for (size_t i = 0; i < map.windows * map.cols; i++) {
        const size_t from = i / map.cols * run, to = from + run < strip->rows ? from + run : strip->rows;
        const double light = window_light(strip, from, to, i % map.cols);
        if (!isfinite(light))
            continue;
        map.state[i] = light >= begins ? TDM_SKIP_LEAVE : TDM_SKIP_MAY;
        known += 1;
        left += light >= begins;
        most += light >= lower;
        least += light >= upper;
    }
    map.share = (tdm_value){.value = share_of(left, known), .u = share_of(0.5 * (most - least), known)};
    if (!isfinite(level_u))
        map.share.u = (double)NAN;
    *out = map;
    return TDM_OK;
}
