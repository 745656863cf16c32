/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The inside of a reading, for the code that fills it. */
#ifndef TDM_MEASURE_READING_PARTS_H
#define TDM_MEASURE_READING_PARTS_H

#include "base/date.h"
#include "colour/calibration.h"
#include "colour/level.h"
#include "measure/quality.h"
#include "measure/zone_reading.h"

struct tdm_reading {
    char *file;
    char sha256[65];
    uint32_t width, height;
    char *profile;
    tdm_profile_source profile_source;
    char taken[24];
    bool taken_given;                /* by the options, not by EXIF */
    char coloured_on[TDM_DATE_ROOM]; /* "" where not known */
    double days;                     /* from the last colour to the photograph; NaN where not known */
    double mm_per_px;
    const char *scale_source; /* static storage, or NULL */
    char from[256];           /* photograph of the calibration, "" for this one */
    tdm_calibration calibration;
    tdm_level_scale scale;
    tdm_warnings warnings;
    tdm_quality quality;
    bool usable;
    struct tdm_zone_reading *zones;
    size_t zone_count;
    struct tdm_zone_reading head;
};

#endif
