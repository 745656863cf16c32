/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Colours of patches, encoded, 0 to 255: the median of each channel over a patch's middle. */
#ifndef TDM_COLOUR_FIND_PROBE_H
#define TDM_COLOUR_FIND_PROBE_H

#include "colour/find_lattice.h"

/* Of the patch in this column and row of a plane. */
void tdm_find_probe(const tdm_find_picture *picture, const tdm_homography *map, int u, int v,
                    double colour[3]);

/* By row and column; set where the lattice has an area. */
typedef struct tdm_find_colours {
    double at[TDM_LATTICE_SPAN][TDM_LATTICE_SPAN][3];
} tdm_find_colours;

/* Of the areas that were seen, without any map. */
void tdm_find_probe_lattice(const tdm_find_picture *picture, const tdm_find_areas *areas,
                            const tdm_find_lattice *lattice, tdm_find_colours *out);

#endif
