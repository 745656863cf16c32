/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The 24-patch target: reference values, its patches in a photograph, and the fit to them. */
#ifndef TDM_COLOUR_TARGET_H
#define TDM_COLOUR_TARGET_H

#include "colour/sample.h"

enum { TDM_TARGET_ROWS = 4, TDM_TARGET_COLUMNS = 6, TDM_FIRST_NEUTRAL = 18, TDM_NEUTRALS = 6 };

typedef struct tdm_reference_patch {
    const char *name;
    double lab[3]; /* D50, 2 degree observer */
} tdm_reference_patch;

/* Rows from the dark skin patch on, the neutral row last, white first. */
extern const tdm_reference_patch tdm_reference_patches[TDM_PATCHES];

typedef struct tdm_patch {
    double rgb[3];    /* measured, linear working RGB of the device */
    double wanted[3]; /* reference in the same RGB */
    bool clipped;     /* a channel at its top in too many pixels */
    bool crushed;     /* a channel at its bottom */
    bool kept;        /* neither: the fit uses it */
} tdm_patch;

/* corners as in tdm_calibrate_target; each of the 24 patches is sampled in the middle half of its sides.
 * TDM_ERR_UNUSABLE, place "target", where corners, size or position don't allow it. */
TDM_MUST_CHECK tdm_code tdm_patches_sample(const tdm_device *device, const tdm_pixels *pixels,
                                           const double corners[8], const char *file,
                                           tdm_sample samples[TDM_PATCHES], tdm_error *error);

/* Whether the last six samples fall from white to black and are of one colour. */
bool tdm_neutral_row_fits(const tdm_sample samples[TDM_PATCHES]);

/* Tries the other seven orders of the corners. The sentence's end for the one that fits, such as "the target
 * seems to be upside down"; NULL where none does. Static storage. */
TDM_MUST_CHECK tdm_code tdm_target_other_order(const tdm_device *device, const tdm_pixels *pixels,
                                               const double corners[8], const char *file, const char **found,
                                               tdm_error *error);

/* Curve and matrix from the kept patches. start: tdm_calibration_none of the device. False where too few
 * patches are left or the neutral row doesn't rise. */
bool tdm_target_fit(const tdm_patch patches[TDM_PATCHES], const tdm_calibration *start, tdm_calibration *out);

/* CIELAB of a measured colour under a calibration. */
void tdm_patch_lab(const tdm_calibration *calibration, const double rgb[3], double lab[3]);

#endif
