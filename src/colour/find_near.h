/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which areas lie near a place. */
#ifndef TDM_COLOUR_FIND_NEAR_H
#define TDM_COLOUR_FIND_NEAR_H

#include "colour/find_areas.h"

typedef struct tdm_find_near {
    const tdm_find_areas *areas; /* must outlive it */
    uint32_t columns, rows;      /* of cells */
    int32_t *first;              /* area in each cell, -1 for none */
    int32_t *next;               /* in the same cell */
} tdm_find_near;

/* False where memory is short. */
bool tdm_find_near_make(const tdm_find_areas *areas, uint32_t width, uint32_t height, tdm_find_near *out);
void tdm_find_near_free(tdm_find_near *near);

/* Up to `room` areas no further than `reach` from x, y; those of the upper rows first. Returns how many. */
size_t tdm_find_near_all(const tdm_find_near *near, double x, double y, double reach, int32_t *out,
                         size_t room);
/* The nearest of them, -1 where there is none. */
int32_t tdm_find_nearest(const tdm_find_near *near, double x, double y, double reach);

#endif
