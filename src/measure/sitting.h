/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A photograph opened for measuring: its marks, its colours, its references and the correction from them. */
#ifndef TDM_MEASURE_SITTING_H
#define TDM_MEASURE_SITTING_H

#include "colour/finder.h"
#include "colour/level.h"
#include "marks/calibration_file.h"
#include "marks/marks.h"
#include "tidemark/reading.h"

typedef struct tdm_sitting {
    const char *path;
    char *marks_path; /* owned */
    const tdm_read_options *options;
    tdm_warnings *warnings;
    tdm_photo *photo;
    tdm_marks marks; /* all empty where there is no marks file */
    bool has_marks;
    tdm_device *device;
    tdm_pixels pixels; /* one rectangle that holds target, greys, swatches and zones */
    bool has_target, searched;
    tdm_found_target target; /* corners also where they were marked */
    tdm_reference reference;
    tdm_calibration calibration;
    bool has_results;
    tdm_patch_result results[TDM_PATCHES];
    bool carried; /* calibration from another photograph */
    tdm_calibration_origin origin;
    double mm_per_px, scale_u; /* NaN without a scale; scale_u: relative standard uncertainty */
    const char *scale_source;  /* "marked", "target", "grey" or NULL; static storage */
    tdm_level_scale level_scale;
} tdm_sitting;

/* Opens photograph and marks, finds the target where none is marked, decodes and calibrates. marks_path NULL:
 * the file beside the photograph, which may be missing only where marks_needed is false. Close in either
 * case. options and warnings must outlive it. */
TDM_MUST_CHECK tdm_code tdm_sitting_open(tdm_sitting *sitting, const char *path, const char *marks_path,
                                         bool marks_needed, const tdm_read_options *options,
                                         tdm_warnings *warnings, tdm_error *error);
void tdm_sitting_close(tdm_sitting *sitting);

/* The sitting's own steps. */
TDM_MUST_CHECK tdm_code tdm_sitting_locate(tdm_sitting *sitting, tdm_error *error);    /* the target */
TDM_MUST_CHECK tdm_code tdm_sitting_scale(tdm_sitting *sitting, tdm_error *error);     /* mm a pixel */
TDM_MUST_CHECK tdm_code tdm_sitting_decode(tdm_sitting *sitting, tdm_error *error);    /* pixels */
TDM_MUST_CHECK tdm_code tdm_sitting_calibrate(tdm_sitting *sitting, tdm_error *error); /* the correction */
TDM_MUST_CHECK tdm_code tdm_sitting_carry(tdm_sitting *sitting, const tdm_grey *greys,
                                          tdm_error *error); /* another photograph's */
/* Greys beside a target or a carried calibration: warns where they disagree or are of no use. */
TDM_MUST_CHECK tdm_code tdm_sitting_check_greys(tdm_sitting *sitting, const tdm_grey *greys,
                                                tdm_error *error);

#endif
