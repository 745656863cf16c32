/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The two forms of an exported profile. */
#ifndef TDM_COLOUR_ICC_EXPORT_PARTS_H
#define TDM_COLOUR_ICC_EXPORT_PARTS_H

#include <lcms2.h>

#include "colour/icc_export.h"

/* Entries of a curve: a multiple of 255 and one, so that each 8-bit code falls on one; lut16Type takes 4096
 * at most. */
enum { TDM_ICC_CURVE = 16 * 255 + 1 };

/* Device numbers 0 to 1 to corrected XYZ, even light. */
void tdm_icc_corrected(const tdm_device *device, const tdm_calibration *calibration, const float rgb[3],
                       double xyz[3]);

/* Each channel of a device that is curves and a matrix, corrected, over its largest value: 0 to 1. False
 * where the channels aren't apart from each other, or one never rises above zero. */
bool tdm_icc_curves(const tdm_device *device, const tdm_calibration *calibration,
                    float curve[3][TDM_ICC_CURVE], double largest[3]);

/* Tags of either form. TDM_ERR_MEMORY, or TDM_ERR_UNUSABLE where the numbers leave a profile's range or lcms2
 * refuses; no text is told. curve and largest from tdm_icc_curves. */
TDM_MUST_CHECK tdm_code tdm_icc_write_matrix(cmsContext context, cmsHPROFILE profile,
                                             const tdm_calibration *calibration,
                                             float curve[3][TDM_ICC_CURVE], const double largest[3]);
/* curve NULL: the table is over the device's own numbers. */
TDM_MUST_CHECK tdm_code tdm_icc_write_table(cmsContext context, cmsHPROFILE profile, const tdm_device *device,
                                            const tdm_calibration *calibration, float (*curve)[TDM_ICC_CURVE],
                                            const double largest[3]);

#endif
