/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The small places of a stretch of hair: short windows along the fall, a cell wide, and their colours. */
#ifndef TDM_MEASURE_GREY_PLACES_H
#define TDM_MEASURE_GREY_PLACES_H

#include "measure/grey_mix.h"
#include "strip/strip.h"

typedef struct tdm_grey_places {
    double *xyz;   /* 3 each: mean linear light */
    double *light; /* Y of each, above 0 */
    double *spare; /* for sorting */
    size_t count;
} tdm_grey_places;

/* Room for so many. False when out of memory; free it either way. */
bool tdm_grey_places_make(size_t room, tdm_grey_places *out);
void tdm_grey_places_free(tdm_grey_places *it);

/* The places in the strip's rows [from, to): no more than it has cells there. */
void tdm_grey_gather(const tdm_strip *strip, size_t from, size_t to, tdm_grey_places *into);

/* The darkest places' colour, in the light of the mix's natural hair. */
void tdm_grey_natural(const tdm_grey_places *of, const tdm_grey_mix *mix, double xyz[3]);

/* The colour at white's luminance on the line along which places vary, without what shade alone makes them
 * vary. False where hardly anything is left. */
bool tdm_grey_lightened(const tdm_grey_places *of, const tdm_grey_mix *mix, double white, double xyz[3]);

#endif
