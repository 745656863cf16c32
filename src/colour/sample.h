/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The colour of a marked area of even colour. */
#ifndef TDM_COLOUR_SAMPLE_H
#define TDM_COLOUR_SAMPLE_H

#include "colour/calibration.h"

typedef struct tdm_sample {
    double rgb[3];        /* linear working RGB of the device, trimmed mean of each channel */
    size_t used;          /* pixels looked at: opaque, centre inside, on a lattice where there are many */
    double clipped_share; /* of them, a channel at its top */
} tdm_sample;

/* polygon: count x,y pairs. used is 0, and rgb NaN, where no pixel of pixels->rect lies inside. */
TDM_MUST_CHECK tdm_code tdm_sample_polygon(const tdm_device *device, const tdm_pixels *pixels,
                                           const double *polygon, size_t count, tdm_sample *out,
                                           tdm_error *error);

#endif
