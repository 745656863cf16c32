/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The inside of a target's reading, for the code that fills it. */
#ifndef TDM_MEASURE_TARGET_READING_H
#define TDM_MEASURE_TARGET_READING_H

#include "base/warnings.h"
#include "colour/calibration.h"
#include "colour/finder.h"
#include "tidemark/target.h"

struct tdm_target_reading {
    char *file; /* without its folder; owned */
    char sha256[65];
    uint32_t width, height;
    char *profile; /* owned */
    tdm_profile_source profile_source;
    char taken[24];
    bool marked;            /* the corners come from the marks, not from the finder */
    tdm_found_target found; /* where marked only its corners are looked at */
    tdm_reference reference;
    tdm_calibration calibration;
    tdm_patch_result results[TDM_PATCHES];
    tdm_warnings warnings;
    tdm_pixels crop;    /* the picture around the target, for the overlay; owned */
    tdm_device *device; /* owned */
};

/* The rectangle that `crop` should hold: the target with half a patch's pitch around it, cut to the picture.
 */
tdm_rect tdm_target_crop(const double corners[8], uint32_t width, uint32_t height);

#endif
