/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Quantiles of ribbons that count by their size, and how sure they are. */
#ifndef TDM_MEASURE_RIBBON_STATS_H
#define TDM_MEASURE_RIBBON_STATS_H

#include "measure/columns.h"

typedef struct tdm_sample {
    double value, weight;
    size_t block; /* of columns, in which it lies */
} tdm_sample;

void tdm_samples_sort(tdm_sample *samples, size_t count);

/* Value below which share q of all weight lies; samples sorted. times (of each block) NULL takes each once.
 * NaN for none. */
double tdm_samples_quantile(const tdm_sample *samples, size_t count, double q, const uint16_t *times);

/* Standard uncertainty of that from the resamples; NaN where too few have any. Samples sorted. */
TDM_MUST_CHECK tdm_code tdm_samples_spread(const tdm_sample *samples, size_t count, double q,
                                           const tdm_resampling *resampling, double *out, tdm_error *error);

/* Block of a place across. */
size_t tdm_block_at(const tdm_columns *columns, double across);

#endif
