/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where light hair lies in a zone, and the ribbons it makes: what pictures of it are drawn from. */
#ifndef TDM_MEASURE_STRAND_MAP_H
#define TDM_MEASURE_STRAND_MAP_H

#include <stddef.h>

/* A run of light strands side by side, followed from window to window. */
typedef struct tdm_ribbon {
    size_t first, windows; /* the windows [first, first + windows) of the map in which it was seen */
    double *edges;         /* owned: windows * 2, left and right edge from the strip's left edge */
    double start, onset;   /* where it becomes light, from the path's start (0: light from there on), and the
                              10-90 % length over which it does; NaN where it can't be told */
} tdm_ribbon;

/* Lengths in the strip's units. */
typedef struct tdm_strand_map {
    size_t windows, cols; /* along and across */
    double from;          /* of the first window, from the path's start */
    double window, cell;  /* length of a window along, width of a column across */
    float *light;         /* owned: windows * cols, share of light hair 0 to 1; NaN where nothing is used */
    tdm_ribbon *ribbons;  /* owned */
    size_t ribbon_count;
} tdm_strand_map;

void tdm_strand_map_clear(tdm_strand_map *map); /* and back to nothing */

#endif
