/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Gaussian means over the used part of a grid: normalised convolution (Knutsson and Westin 1993). */
#ifndef TDM_MEASURE_SCIELAB_BLUR_H
#define TDM_MEASURE_SCIELAB_BLUR_H

#include <stddef.h>

#include "tidemark/error.h"

/* One plane of a grid, row by row. */
typedef struct tdm_grid {
    size_t rows, cols;
    float *sum;   /* value times share */
    float *share; /* of the cell that is used, 0 to 1 */
} tdm_grid;

/* Means over blocks of `down` by `over` cells: the blocks at the far edges are smaller. out: allocated here,
 * ceil(rows / down) by ceil(cols / over). */
TDM_MUST_CHECK tdm_code tdm_grid_shrink(const tdm_grid *grid, size_t down, size_t over, tdm_grid *out,
                                        tdm_error *error);
void tdm_grid_free(tdm_grid *grid);

/* At the middle of each cell, the mean of the values by a Gaussian of standard deviation sigma cells, times
 * their shares. Cells are means over their area, and that much blur counts as done. out: rows * cols; 0 where
 * no used cell is within reach. Against the plain sum over every cell: within 0.4 % of the largest difference
 * of values in the grid. */
TDM_MUST_CHECK tdm_code tdm_grid_blur(const tdm_grid *grid, double sigma, float *out, tdm_error *error);

#endif
