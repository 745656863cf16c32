/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lattices that areas of like size lie on, as rows and columns of patches do. */
#ifndef TDM_COLOUR_FIND_LATTICE_H
#define TDM_COLOUR_FIND_LATTICE_H

#include "colour/find_near.h"
#include "colour/find_plane.h"

enum {
    TDM_LATTICE_SPAN = 24,   /* columns and rows that are followed: a wall of tiles has more */
    TDM_LATTICE_FEWEST = 14, /* patches of 24 that must have been seen as areas */
};

typedef struct tdm_find_lattice {
    tdm_homography map; /* column and row to the picture; a patch's middle is at whole numbers */
    int32_t area[TDM_LATTICE_SPAN][TDM_LATTICE_SPAN]; /* by row and column; -1 where none was seen */
    int seen;
} tdm_find_lattice;

/* Where the search is. */
typedef struct tdm_find_growth {
    const tdm_find_near *near;
    size_t seed;          /* next one to try */
    int32_t (*beside)[4]; /* one an area: those right, left, below and above it on the last lattice that it
                             was on, else -1 */
} tdm_find_growth;

/* near must outlive it. False where memory is short. */
bool tdm_find_growth_start(const tdm_find_near *near, tdm_find_growth *out);
void tdm_find_growth_free(tdm_find_growth *growth);

/* The next lattice of TDM_LATTICE_FEWEST areas or more that isn't one found before; false where there is no
 * other. Right-handed as the picture is: columns turn clockwise into rows. */
bool tdm_find_lattice_next(tdm_find_growth *growth, tdm_find_lattice *out);

#endif
