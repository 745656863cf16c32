/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The colour of one marked swatch of hair. */
#ifndef TDM_MEASURE_SWATCH_SAMPLE_H
#define TDM_MEASURE_SWATCH_SAMPLE_H

#include "colour/calibration.h"
#include "marks/marks.h"

typedef struct tdm_swatch_sample {
    size_t used;          /* pixels, on a lattice where there are many */
    double clipped_share; /* of the swatch's pixels */
    double black_share;   /* the same of those without any light */
    double lab[3];        /* of the mean of their light; NaN where none is used */
    double spread;        /* standard deviation of their L* */
    double u_sampling;    /* standard (k = 1) uncertainty of L*: what another part of the swatch would give */
} tdm_swatch_sample;

/* pixels must hold the swatch. marks gives the exclusions. */
TDM_MUST_CHECK tdm_code tdm_swatch_sample_make(const tdm_device *device, const tdm_calibration *calibration,
                                               const tdm_pixels *pixels, const tdm_marks *marks, size_t index,
                                               tdm_swatch_sample *out, tdm_error *error);

#endif
