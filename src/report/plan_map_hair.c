/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdlib.h>

#include "report/page.h"
#include "report/plan_map.h"

/* White beside black is seen on every hair and by every eye. */
enum { HATCH = 9, HATCH_WHITE = 2, HATCH_BLACK = 3 };

static uint32_t pack(const unsigned rgb[3])
{
    return rgb[0] << 16 | rgb[1] << 8 | rgb[2];
}

static uint32_t colour_of(const float *xyz)
{
    unsigned rgb[3];
    const double wide[3] = {(double)xyz[0], (double)xyz[1], (double)xyz[2]};
    tdm_xyz_to_srgb8(wide, rgb);
    return pack(rgb);
}

static uint32_t hatched(uint32_t colour, size_t x, size_t y)
{
    const size_t place = (x + y) % HATCH;
    return place < HATCH_WHITE ? 0xffffff : place < HATCH_BLACK ? 0 : colour;
}

/* One picture of the hair, left and right as it hangs: the strip's left, on the way from root to ends, is
 * then at the right. light_from NaN: nothing is hatched. What isn't hair keeps the background. */
static void put_hair(const tdm_map_panel *panel, const float *xyz, double light_from, double left,
                     cairo_surface_t *surface)
{
    const tdm_hair *hair = &panel->zone->hair;
    const size_t cols = hair->strip.cols, rows = hair->strip.rows;
    const double cell = hair->strip.cell * panel->per_mm;
    unsigned char *data = cairo_image_surface_get_data(surface);
    const size_t stride = (size_t)cairo_image_surface_get_stride(surface);
    for (size_t y = 0; y < (size_t)panel->height; y++) {
        uint32_t *line = (uint32_t *)(void *)(data + ((size_t)panel->top + y) * stride) + (size_t)left;
        const size_t row = (size_t)fmin((double)y / cell, (double)rows - 1);
        for (size_t x = 0; x < (size_t)panel->width; x++) {
            const size_t at = (row + 1) * cols - 1 - (size_t)fmin((double)x / cell, (double)cols - 1);
            if (!hair->strip.use[at])
                continue;
            const uint32_t colour = colour_of(xyz + 3 * at);
            line[x] = tdm_plan_is_light(hair, at, light_from) ? hatched(colour, x, y) : colour;
        }
    }
}

tdm_code tdm_map_hair(const tdm_map_panel *panel, cairo_surface_t *surface, tdm_error *error)
{
    const tdm_planned_zone *zone = panel->zone;
    const double now = panel->left + TDM_MAP_RULER + TDM_MAP_BAR;
    tdm_strip after = {0};
    put_hair(panel, zone->hair.strip.xyz, zone->light_from, now, surface);
    if (!zone->about.planned)
        return TDM_OK;
    const tdm_code code = tdm_melt_scratch(&zone->hair, &after, error);
    if (code != TDM_OK)
        return code;
    tdm_melt_apply(&zone->hair, &zone->melt, &after);
    put_hair(panel, after.xyz, NAN, now + panel->width + TDM_MAP_GAP, surface);
    tdm_strip_free(&after);
    return TDM_OK;
}
