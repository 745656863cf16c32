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

/* The lattice of TDM_LATTICE_FEWEST areas or more that this one is on; false where there is none. Its nearest
 * neighbours are tried first. Right-handed as the picture is: columns turn clockwise into rows. Each try
 * takes one off *left; there is none at 0. */
bool tdm_find_lattice_from(const tdm_find_near *near, int32_t seed, int *left, tdm_find_lattice *lattice);

#endif
