/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A root shade laid on the hair and feathered out. */
#ifndef TDM_PLAN_MELT_H
#define TDM_PLAN_MELT_H

#include "plan/hair.h"

typedef struct tdm_melt {
    double lab[3];  /* of the shade, CIELAB D50 */
    double to;      /* mm from the root at which half of it is left */
    double feather; /* 10-90 % width, mm */
} tdm_melt;

/* Share of the shade at a distance from the root: 1 - P((s - to) / sigma), P the normal distribution. */
double tdm_melt_cover(const tdm_melt *melt, double along);

/* A strip of the hair's size with its mask, to be written over; freed with tdm_strip_free. */
TDM_MUST_CHECK tdm_code tdm_melt_scratch(const tdm_hair *hair, tdm_strip *out, tdm_error *error);

/* Colours hair that is lighter than the shade: its body goes towards the shade by the cover, in linear light,
 * under the shading that it has. out: a strip of the hair's size, of which xyz, lab are written. */
void tdm_melt_apply(const tdm_hair *hair, const tdm_melt *melt, tdm_strip *out);

#endif
