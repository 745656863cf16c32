/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which 4 x 6 nodes of a lattice are the target, and which way round. */
#ifndef TDM_COLOUR_FIND_WINDOW_H
#define TDM_COLOUR_FIND_WINDOW_H

#include "colour/find_lattice.h"
#include "colour/find_match.h"

typedef struct tdm_find_guess {
    tdm_homography map; /* column 0 to 5 and row 0 to 3 of the target to the picture, middle of patches */
    bool mirrored;
    tdm_find_match match;
    double rival;      /* agreement of the best other way to lay the target on this lattice */
    double confidence; /* METHODS.md; 0 where it isn't taken for the target */
} tdm_find_guess;

/* What is searched, and for what. */
typedef struct tdm_find_place {
    const tdm_device *device;
    const tdm_find_reference *reference;
    const tdm_find_picture *picture;
    const tdm_find_areas *areas;
} tdm_find_place;

/* Replaces *best where the lattice has a surer one. False where memory is short. */
bool tdm_find_window(const tdm_find_place *place, const tdm_find_lattice *lattice, tdm_find_guess *best);

#endif
