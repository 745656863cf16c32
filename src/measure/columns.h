/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The strip summed into bins along the fall by blocks across: what the profile, the areas and their bootstrap
 * need, made once. */
#ifndef TDM_MEASURE_COLUMNS_H
#define TDM_MEASURE_COLUMNS_H

#include <stdint.h>

#include "strip/strip.h"
#include "tidemark/error.h"

typedef struct tdm_columns {
    size_t bins;   /* along the fall */
    size_t blocks; /* across */
    double bin;    /* length of a bin, in the strip's units */
    double block;  /* width of a block, likewise */
    double *sum;   /* bins * blocks * 3: linear XYZ summed over the used cells */
    double *cells; /* bins * blocks: how many there were */
} tdm_columns;

/* block_cells columns of the strip make a block. Each row is trimmed: its lightest and darkest 1 % of used
 * cells (dust, glints) are left out. */
TDM_MUST_CHECK tdm_code tdm_columns_make(const tdm_strip *strip, size_t block_cells, tdm_columns *out,
                                         tdm_error *error);
void tdm_columns_free(tdm_columns *columns);

/* Cells over which the strip's columns stay correlated, at least 2 mm's worth and at most a tenth of the
 * width. */
TDM_MUST_CHECK tdm_code tdm_columns_correlation(const tdm_strip *strip, size_t *cells, tdm_error *error);

/* How often each block is drawn in each resample: resamples * blocks, rows of blocks. Same seed, same draws.
 */
typedef struct tdm_resampling {
    size_t resamples;
    size_t blocks;
    uint16_t *times;
} tdm_resampling;

TDM_MUST_CHECK tdm_code tdm_resampling_make(size_t resamples, size_t blocks, uint64_t seed,
                                            tdm_resampling *out, tdm_error *error);
void tdm_resampling_free(tdm_resampling *resampling);

/* Mean XYZ of bins [from, to); times NULL takes each block once. False where no cell is used. */
bool tdm_columns_mean(const tdm_columns *columns, size_t from, size_t to, const uint16_t *times,
                      double xyz[3]);

/* Share of the cells of a bin that were used, against the fullest bin. */
double tdm_columns_fill(const tdm_columns *columns, size_t bin);

#endif
