/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Gaussian means over the used part of a grid: normalised convolution (Knutsson and Westin 1993). */
#ifndef TDM_MEASURE_SCIELAB_BLUR_H
#define TDM_MEASURE_SCIELAB_BLUR_H

#include "measure/scielab_grid.h"

/* At the middle of each cell, the mean of the values by a Gaussian of standard deviation sigma cells, times
 * their shares. The blur that is in the values already
 * counts towards it. out: rows * cols; 0 where
 * no used cell is within reach. Against the plain sum over every cell: within 0.4 % of the largest difference
 * of values in the grid. */
TDM_MUST_CHECK tdm_code tdm_grid_blur(const tdm_grid *grid, double sigma, float *out, tdm_error *error);

#endif
