/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Areas of even colour, of the size and compactness that a patch may have. */
#ifndef TDM_COLOUR_FIND_AREAS_H
#define TDM_COLOUR_FIND_AREAS_H

#include "colour/find_picture.h"

typedef struct tdm_find_area {
    double x, y;       /* its middle */
    double xx, xy, yy; /* second moments about it, of the pixels' areas */
    double pixels;
} tdm_find_area;

typedef struct tdm_find_areas {
    tdm_find_area *at;
    size_t count;
    size_t room;
} tdm_find_areas;

/* Adds to `areas`. Neighbouring pixels belong together where no channel differs by more than `step` codes.
 * Memory for a few rows and for the areas kept, at most 100000; those found later are left out. False where
 * memory is short. */
bool tdm_find_areas_add(const tdm_find_picture *picture, int step, tdm_find_areas *areas);
void tdm_find_areas_free(tdm_find_areas *areas);

#endif
