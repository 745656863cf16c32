/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Light across a gap on a grid finer than the pixels: a gap that isn't quite level passes through them at
 * every fraction (ISO 12233, slanted edge). */
#ifndef TDM_MEASURE_QUALITY_GAP_PROFILE_H
#define TDM_MEASURE_QUALITY_GAP_PROFILE_H

#include "measure/quality_edges.h"

enum { TDM_GAP_BINS = 512 };

typedef struct tdm_gap_profile {
    double at[TDM_GAP_BINS], light[TDM_GAP_BINS];
    double weight[TDM_GAP_BINS + 1]; /* the last, of a fit's bound on sigma, is that of all */
    size_t count;
} tdm_gap_profile;

/* From the pixels up to reach beyond either edge, over length along the gap; px. */
void tdm_gap_gather(const tdm_view *view, const tdm_gap *gap, double reach, double length,
                    tdm_gap_profile *out);

/* How far from its nominal place the gap is, px, and the light before, in and after it. Corners are marked by
 * hand: where three even pieces, the middle one as wide as the gap, fit best. NaN where there is none. */
double tdm_gap_find(const tdm_gap_profile *seen, const tdm_gap *gap, double reach, double level[3]);

#endif
