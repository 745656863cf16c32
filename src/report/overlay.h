/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The picture of a target with what was sampled drawn over it. */
#ifndef TDM_REPORT_OVERLAY_H
#define TDM_REPORT_OVERLAY_H

#include <cairo.h>

#include "measure/target_reading.h"

typedef struct tdm_overlay {
    cairo_surface_t *surface; /* RGB24 */
    double left, top, scale;  /* upright pixel x, y lies at (x - left) * scale, (y - top) * scale */
} tdm_overlay;

/* A rectangle of a photograph, which must lie in pixels, in sRGB by that calibration; enlarged or reduced by
 * a whole factor. file: for errors. On TDM_OK the surface is the caller's. */
TDM_MUST_CHECK tdm_code tdm_overlay_photo(const tdm_device *device, const tdm_calibration *calibration,
                                          const tdm_pixels *pixels, tdm_rect rect, const char *file,
                                          tdm_overlay *out, tdm_error *error);

/* The photograph around the target in sRGB by its own profile, uncorrected; likewise. */
TDM_MUST_CHECK tdm_code tdm_overlay_picture(const tdm_target_reading *target, tdm_overlay *out,
                                            tdm_error *error);

/* Draws the target's outline, the sampled areas, the reference colours and the words. */
cairo_status_t tdm_overlay_draw(const tdm_target_reading *target, const tdm_overlay *overlay);

#endif
