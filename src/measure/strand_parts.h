/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Light and dark hair in a stretch: whether they are two populations at all, and what each is. */
#ifndef TDM_MEASURE_STRAND_PARTS_H
#define TDM_MEASURE_STRAND_PARTS_H

#include "measure/partial.h"
#include "measure/strand_counts.h"

typedef struct tdm_strand_parts {
    bool separable;                /* else nothing else is told */
    tdm_mixture mixture;           /* of the scores, each place of one kind */
    tdm_partial partial;           /* of the scores, places of both kinds among them */
    double light[3], dark[3];      /* CIELAB of pure hair of either kind */
    double share, share_u;         /* of light hair, a middle kind included; expanded, by resampling */
    double distance_u;             /* expanded, of the distance of the mixture's means */
    double separation_u;           /* and of Ashman's D */
    bool three;                    /* a third kind between them stands apart (strand_third.h) */
    double middle[3];              /* its CIELAB */
    double middle_share, middle_u; /* of all hair */
} tdm_strand_parts;

/* Fits the counts; axis: the grid's. "Not separable" is an answer, not an error. */
TDM_MUST_CHECK tdm_code tdm_strand_parts_fit(const tdm_measure_input *input, const double axis[3],
                                             const tdm_strand_counts *counts, tdm_strand_parts *out,
                                             tdm_error *error);

/* Counts a grid and fits the counts. */
TDM_MUST_CHECK tdm_code tdm_strand_parts_of(const tdm_measure_input *input, const tdm_strand_grid *grid,
                                            tdm_strand_parts *out, tdm_error *error);

/* Expected share of light hair at each place of the grid, by its score, into grid->light. */
void tdm_strand_parts_mark(const tdm_strand_parts *parts, const tdm_strand_grid *grid);

/* Colours of pure light and pure dark hair by least squares in linear light over a grid that is marked; false
 * where it hasn't both. */
bool tdm_strand_unmix(const tdm_strand_grid *grid, double light[3], double dark[3]);

#endif
