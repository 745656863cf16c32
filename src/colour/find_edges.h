/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the patches' edges lie in a picture. */
#ifndef TDM_COLOUR_FIND_EDGES_H
#define TDM_COLOUR_FIND_EDGES_H

#include "colour/find_picture.h"
#include "colour/homography.h"

/* Each of the 24 patches has four edges with this many points on each. */
enum { TDM_EDGE_POINTS = 7, TDM_MOST_EDGE_POINTS = 24 * 4 * TDM_EDGE_POINTS };

typedef struct tdm_find_edge {
    double x, y; /* half way between the patch's light and the gap's */
    bool across; /* it bounds a column, and so settles the first lattice coordinate; else a row, the second */
    double middle; /* the patch's column or row */
    int side;      /* -1 before the middle, 1 behind it */
} tdm_find_edge;

/* map: column and row to the picture's places. Returns the number of points found. */
size_t tdm_find_edges(const tdm_find_picture *picture, const tdm_homography *map,
                      tdm_find_edge out[TDM_MOST_EDGE_POINTS]);

#endif
