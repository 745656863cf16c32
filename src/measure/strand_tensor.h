/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Structure tensor of a strip's lightness (Bigun and Granlund 1987), a node a millimetre. */
#ifndef TDM_MEASURE_STRAND_TENSOR_H
#define TDM_MEASURE_STRAND_TENSOR_H

#include "strip/strip.h"

/* Mean products of the gradient's parts along (s) and across (t). */
typedef struct tdm_tensor {
    double ss, st, tt;
} tdm_tensor;

typedef struct tdm_tensor_grid {
    size_t rows, cols;
    double step;      /* between nodes, in the strip's units */
    tdm_tensor *node; /* rows * cols: sums over the node's cells; trace 0 where none is used */
} tdm_tensor_grid;

/* *out is filled only on TDM_OK, and freed with tdm_tensor_grid_free. */
TDM_MUST_CHECK tdm_code tdm_tensor_grid_make(const tdm_strip *strip, tdm_tensor_grid *out, tdm_error *error);
void tdm_tensor_grid_free(tdm_tensor_grid *grid);

/* Gives each node about one vote, whatever its contrast: traces near 1 where contrast is usual. */
void tdm_tensor_even(tdm_tensor_grid *grid);

/* Adds to each node of `out` share times the mean of `from` by a Gaussian of sigma steps; nodes past the edge
 * count as 0. */
TDM_MUST_CHECK tdm_code tdm_tensor_spread(const tdm_tensor_grid *from, double sigma, double share,
                                          tdm_tensor *out, tdm_error *error);

/* Angle of the strands off the way along, -pi/2 to pi/2, above 0 to the right. */
double tdm_tensor_angle(const tdm_tensor *of);

/* 0 no direction, 1 one direction only; 0 for a trace of 0. */
double tdm_tensor_coherence(const tdm_tensor *of);

#endif
