/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The hair below the line in short windows along the fall by columns across, freed of the course from root to
 * ends: what is left is strand against strand. */
#ifndef TDM_MEASURE_STRAND_GRID_H
#define TDM_MEASURE_STRAND_GRID_H

#include "measure/measure.h"

typedef struct tdm_strand_grid {
    size_t windows;  /* along the fall, each 2 mm */
    size_t cols;     /* the strip's */
    double window;   /* a window's length, in the strip's units */
    double from, to; /* stretch of the path, in the strip's units */
    double *lab; /* windows * cols * 3: freed CIELAB, around the stretch's mean; NaN where nothing is used */
    double *score; /* windows * cols: lab along the axis that tells light from dark, 0 at its mean; or NaN */
    double *xyz;   /* windows * cols * 3: mean linear XYZ as it is */
    double *slope; /* windows * cols: of the strands, as in tdm_strand_field */
    double *light; /* windows * cols: share of light hair, 0 to 1, once the parts are known; NaN as lab */
} tdm_strand_grid;

/* TDM_ERR_UNUSABLE where the stretch below the line is too short (under 3 windows). */
TDM_MUST_CHECK tdm_code tdm_strand_grid_make(const tdm_measure_input *input, tdm_strand_grid *out,
                                             tdm_error *error);
void tdm_strand_grid_free(tdm_strand_grid *grid);

#endif
