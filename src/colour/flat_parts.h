/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside of the flat field: means of a lattice of cells, and the surface through them. */
#ifndef TDM_COLOUR_FLAT_PARTS_H
#define TDM_COLOUR_FLAT_PARTS_H

#include "colour/calibration.h"

typedef struct tdm_flat_cell {
    double x, y;     /* upright pixels of the picture that the surface is for */
    double stops[3]; /* binary logarithm of corrected linear working RGB */
    double weight;   /* 1, or 0 where the surface leaves it out */
} tdm_flat_cell;

typedef struct tdm_flat_cells {
    tdm_flat_cell *list;         /* to be freed */
    size_t count, clipped, dark; /* usable ones; others that had a channel at its top, or none to speak of */
} tdm_flat_cells;

/* pixels: the whole flat photograph, reduced. */
TDM_MUST_CHECK tdm_code tdm_flat_measure(const tdm_device *device, const tdm_pixels *pixels,
                                         const tdm_calibration *calibration, uint32_t width, uint32_t height,
                                         const char *file, tdm_flat_cells *out, tdm_error *error);

/* The surface of the degree (0 to 4) that pays for its terms, of those that the cells allow; sets the cells'
 * weights and the misfit over those that are kept. out: width and height are given. TDM_ERR_UNUSABLE where no
 * surface can be had. */
TDM_MUST_CHECK tdm_code tdm_flat_fit(tdm_flat_cell *cells, size_t count, const char *file, tdm_light *out,
                                     tdm_error *error);

#endif
