/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Planes of a strip with holes, and coarser ones made of them. */
#ifndef TDM_MEASURE_SCIELAB_GRID_H
#define TDM_MEASURE_SCIELAB_GRID_H

#include <stdbool.h>
#include <stddef.h>

#include "tidemark/error.h"

/* One plane, row by row. */
typedef struct tdm_grid {
    size_t rows, cols;
    float *sum;     /* value times share */
    float *share;   /* of the cell that is used, 0 to 1 */
    double blurred; /* variance, in cells squared along each axis, of the blur that is in the values: 1 / 12
                       where a cell is the mean over its area */
} tdm_grid;

void tdm_grid_free(tdm_grid *grid);

/* Means over blocks of `down` by `over` cells; what lies past the far edges counts as not used. out:
 * allocated here, ceil(rows / down) by ceil(cols / over); its blur stays as it was. */
TDM_MUST_CHECK tdm_code tdm_grid_shrink(const tdm_grid *grid, size_t down, size_t over, tdm_grid *out,
                                        tdm_error *error);

/* The same by `factor` both ways, each block's mean falling off linearly to the middles of its neighbours:
 * what is finer than the new cells folds back as its square. out's blur is set. */
TDM_MUST_CHECK tdm_code tdm_grid_thin(const tdm_grid *grid, size_t factor, tdm_grid *out, tdm_error *error);

#endif
