/* SPDX-License-Identifier: GPL-3.0-or-later */
/* All lattices of a picture, one after the other. */
#ifndef TDM_COLOUR_FIND_GROWTH_H
#define TDM_COLOUR_FIND_GROWTH_H

#include "colour/find_lattice.h"

/* Where the search is. */
typedef struct tdm_find_growth {
    const tdm_find_near *near;
    size_t seed;          /* next one to try */
    int left;             /* tries: a picture of a hundred thousand dots must come to an end */
    int32_t (*beside)[4]; /* one an area: those right, left, below and above it on the last lattice that it
                             was on, else -1 */
} tdm_find_growth;

/* near must outlive it. False where memory is short. */
bool tdm_find_growth_start(const tdm_find_near *near, tdm_find_growth *out);
void tdm_find_growth_free(tdm_find_growth *growth);

/* The next lattice that isn't one found before; false where there is no other. */
bool tdm_find_growth_next(tdm_find_growth *growth, tdm_find_lattice *out);

#endif
