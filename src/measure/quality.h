/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whether the photograph can carry a measurement: figures, each with a threshold and how to retake. What each
 * is, and why its threshold is what it is, stands in METHODS.md. */
#ifndef TDM_MEASURE_QUALITY_H
#define TDM_MEASURE_QUALITY_H

#include "base/warnings.h"
#include "strip/strip.h"

typedef enum tdm_quality_id {
    /* of the photograph */
    TDM_QUALITY_RESOLUTION,
    TDM_QUALITY_FOCUS_PX,
    TDM_QUALITY_FOCUS_MM,
    TDM_QUALITY_HAIR_FOCUS_PX,
    TDM_QUALITY_HAIR_FOCUS_MM,
    TDM_QUALITY_MOTION_PX,
    TDM_QUALITY_MOTION_MM,
    TDM_QUALITY_NOISE,
    TDM_QUALITY_JPEG,
    TDM_QUALITY_BLOCKS,
    TDM_QUALITY_TILT,
    TDM_QUALITY_MIXED,
    TDM_QUALITY_CAST,
    TDM_QUALITY_RESIDUAL,
    TDM_QUALITY_LEFT_OUT,
    /* of a zone */
    TDM_QUALITY_CELLS,
    TDM_QUALITY_LENGTH,
    TDM_QUALITY_USED,
    TDM_QUALITY_CLIPPED,
    TDM_QUALITY_DARK,
    TDM_QUALITY_UNEVEN,
    TDM_QUALITY_COUNT
} tdm_quality_id;

typedef struct tdm_quality_row {
    const char *code, *label, *unit;
    double threshold; /* a warning beyond it; NaN: only stated */
    double unusable;  /* no measurement beyond it; NaN: never so */
    bool below;       /* beyond means below */
    int digits;
    const char *finding; /* what is wrong; '#' stands for the value */
    const char *advice;  /* how to retake */
} tdm_quality_row;

extern const tdm_quality_row tdm_quality_rows[TDM_QUALITY_COUNT];

/* Starts as {0}; owns its items' zone names. */
typedef struct tdm_quality {
    tdm_quality_figure *items;
    size_t count, room;
    bool unusable; /* a figure of the whole photograph is beyond what can be measured with */
} tdm_quality;

typedef struct tdm_quality_value {
    double value;       /* NaN where it can't be told */
    double doubt;       /* standard uncertainty: no warning unless beyond by twice as much; 0 where certain */
    const char *zone;   /* NULL for the photograph */
    const char *detail; /* said after the finding, or NULL */
    double bound;       /* in place of a threshold that is further, but never by more than half; 0: none */
    bool stated;        /* without threshold: another figure judges */
} tdm_quality_value;

/* Adds the figure, and a warning where it is beyond its threshold. *refused, where not NULL, is set true
 * where it is beyond what can be measured with. */
TDM_MUST_CHECK tdm_code tdm_quality_add(tdm_quality *quality, tdm_quality_id id,
                                        const tdm_quality_value *value, bool *refused, tdm_warnings *warnings,
                                        tdm_error *error);
void tdm_quality_free(tdm_quality *quality);

/* What the photograph's figures are taken from. */
typedef struct tdm_quality_input {
    const tdm_device *device;
    const tdm_pixels *pixels;
    const tdm_photo_info *photo;
    const tdm_marks *marks;
    const double *corners; /* of the target, marked or found, 8 numbers; NULL where there is none */
    const tdm_calibration *calibration;
    const tdm_patch_result *results; /* of the 24 patches, or NULL */
    const tdm_reference *reference;  /* what they were compared with, or NULL */
    double mm_per_px;                /* NaN without a scale */
} tdm_quality_input;

/* Sets quality->unusable where the whole photograph is. */
TDM_MUST_CHECK tdm_code tdm_quality_photo(const tdm_quality_input *input, tdm_quality *quality,
                                          tdm_warnings *warnings, tdm_error *error);
/* *carries is set false where the zone can't be read at all. */
TDM_MUST_CHECK tdm_code tdm_quality_zone(const tdm_quality_input *input, size_t zone, const tdm_strip *strip,
                                         tdm_quality *quality, tdm_warnings *warnings, bool *carries,
                                         tdm_error *error);

#endif
