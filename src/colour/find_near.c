/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "colour/find_near.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { CELL = 16 };

static uint32_t cell_of(double place, uint32_t cells)
{
    const double at = place / CELL;
    if (!(at > 0))
        return 0;
    return at < cells - 1 ? (uint32_t)at : cells - 1;
}

bool tdm_find_near_make(const tdm_find_areas *areas, uint32_t width, uint32_t height, tdm_find_near *out)
{
    tdm_find_near near = {.areas = areas, .columns = width / CELL + 1, .rows = height / CELL + 1};
    const size_t cells = (size_t)near.columns * near.rows;
    near.first = malloc(cells * sizeof *near.first);
    near.next = malloc((areas->count + 1) * sizeof *near.next);
    if (!near.first || !near.next) {
        tdm_find_near_free(&near);
        return false;
    }
    memset(near.first, 0xff, cells * sizeof *near.first);
    for (size_t i = areas->count; i-- > 0;) {
        const size_t cell =
            (size_t)cell_of(areas->at[i].y, near.rows) * near.columns + cell_of(areas->at[i].x, near.columns);
        near.next[i] = near.first[cell];
        near.first[cell] = (int32_t)i;
    }
    *out = near;
    return true;
}

void tdm_find_near_free(tdm_find_near *near)
{
    free(near->first);
    free(near->next);
    *near = (tdm_find_near){0};
}

size_t tdm_find_near_all(const tdm_find_near *near, double x, double y, double reach, int32_t *out,
                         size_t room)
{
    size_t count = 0;
    const uint32_t right = cell_of(x + reach, near->columns), bottom = cell_of(y + reach, near->rows);
    for (uint32_t row = cell_of(y - reach, near->rows); row <= bottom; row++) {
        for (uint32_t column = cell_of(x - reach, near->columns); column <= right; column++) {
            int32_t i = near->first[(size_t)row * near->columns + column];
            for (; i >= 0 && count < room; i = near->next[i]) {
                const double dx = near->areas->at[i].x - x, dy = near->areas->at[i].y - y;
                if (dx * dx + dy * dy <= reach * reach)
                    out[count++] = i;
            }
        }
    }
    return count;
}

int32_t tdm_find_nearest(const tdm_find_near *near, double x, double y, double reach)
{
    int32_t found[16], best = -1;
    double least = INFINITY;
    const size_t count = tdm_find_near_all(near, x, y, reach, found, sizeof found / sizeof *found);
    for (size_t i = 0; i < count; i++) {
        const double dx = near->areas->at[found[i]].x - x, dy = near->areas->at[found[i]].y - y;
        const double far = dx * dx + dy * dy;
        if (far < least) {
            least = far;
            best = found[i];
        }
    }
    return best;
}
