/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How often each score occurs in a stretch of hair, by blocks across, and what light such places have: what
 * mixtures are fitted to, and resampled from. */
#ifndef TDM_MEASURE_STRAND_COUNTS_H
#define TDM_MEASURE_STRAND_COUNTS_H

#include "measure/strand_grid.h"

/* Scores of -50 to 50 CIELAB units in tenths. */
enum { TDM_TENTHS = 1001 };

typedef struct tdm_strand_counts {
    double *blocks; /* block_count * TDM_TENTHS */
    double *centre; /* TDM_TENTHS: the scores */
    double *whole;  /* TDM_TENTHS: all blocks together */
    double *drawn;  /* TDM_TENTHS: of the last resample */
    double *xyz;    /* TDM_TENTHS * 3: sums of linear light, freed of the course as the scores are */
    size_t block_count;
    double total, effective; /* values, and the independent ones they stand for */
} tdm_strand_counts;

/* *out is filled only on TDM_OK, and freed with tdm_strand_counts_free. */
TDM_MUST_CHECK tdm_code tdm_strand_counts_make(const tdm_measure_input *input, const tdm_strand_grid *grid,
                                               tdm_strand_counts *out, tdm_error *error);
void tdm_strand_counts_free(tdm_strand_counts *counts);

/* Each block as often as drawn, into counts->drawn. */
void tdm_strand_counts_draw(const tdm_strand_counts *counts, const uint16_t *times);

/* Bimodality coefficient of the whole. */
double tdm_strand_counts_bimodality(const tdm_strand_counts *counts);

#endif
