/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Gradient of a strip's lightness by derivatives of a Gaussian, over used cells only (normalised convolution,
 * Knutsson and Westin 1993), freed of what is broad across: a line over the fall isn't a strand. */
#ifndef TDM_MEASURE_STRAND_GRADIENT_H
#define TDM_MEASURE_STRAND_GRADIENT_H

#include "strip/strip.h"

typedef struct tdm_gradient {
    size_t rows, cols, reach;
    float *smooth, *slope; /* 2 * reach + 1: Gaussian and its derivative */
    float *plane[4]; /* rows * cols: sums along each row of value and use by `smooth`, then by `slope` */
    float *sum[6];   /* cols: a row of the whole convolution */
} tdm_gradient;

/* Of one row; L* a cell, 0 where no used cell is near. Borrowed: good until the next row is asked for. */
typedef struct tdm_gradient_row {
    const float *along, *across; /* cols */
    const float *use;            /* cols: share of the Gaussian that fell on used cells */
} tdm_gradient_row;

TDM_MUST_CHECK tdm_code tdm_gradient_make(const tdm_strip *strip, tdm_gradient *out, tdm_error *error);
tdm_gradient_row tdm_gradient_at(tdm_gradient *gradient, size_t row);
void tdm_gradient_free(tdm_gradient *gradient);

#endif
