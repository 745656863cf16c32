/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Uneven light from a photograph of plain card in the same light. */
#ifndef TDM_COLOUR_FLAT_FIELD_H
#define TDM_COLOUR_FLAT_FIELD_H

#include "colour/calibration.h"

/* flat: a photograph, of the same shape (sides' proportion within 1 %) as the picture of width x height that
 * it is for, filled by plain card. calibration: its curve is taken out first. at: the place, upright pixels
 * of that picture, whose light counts as 1 (the target's middle). TDM_ERR_UNUSABLE where it is clipped, too
 * dark, of another shape, or isn't plain; place "". */
TDM_MUST_CHECK tdm_code tdm_flat_field(const tdm_device *device, tdm_photo *flat,
                                       const tdm_calibration *calibration, uint32_t width, uint32_t height,
                                       const double at[2], const char *file, tdm_warnings *warnings,
                                       tdm_light *out, tdm_error *error);

/* Whether marked greys agree with a calibration fitted to a target: warning "grey-disagrees" with figure
 * where not. */
TDM_MUST_CHECK tdm_code tdm_greys_check(const tdm_device *device, const tdm_pixels *pixels,
                                        const tdm_calibration *calibration, const tdm_grey *greys,
                                        size_t count, const char *file, tdm_warnings *warnings,
                                        tdm_error *error);

#endif
