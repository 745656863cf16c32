/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Marked grey references: what they show of the light, alone or beside a target. */
#ifndef TDM_COLOUR_GREYS_H
#define TDM_COLOUR_GREYS_H

#include "colour/calibration.h"

/* One grey reference as the picture shows it. */
typedef struct tdm_grey_measured {
    double rgb[3];    /* linear working RGB, trimmed mean */
    double wanted;    /* the same light by the stated L*, equal in all channels */
    double lstar;     /* stated */
    double middle[2]; /* upright pixels */
    double weight;    /* 0 to 1, by how well it agrees with the others: set by the fits */
} tdm_grey_measured;

/* out: room for count. TDM_ERR_UNUSABLE with place "grey[i]" where one is clipped, black, too small or
 * strongly coloured, or its L* isn't 5 to 100. */
TDM_MUST_CHECK tdm_code tdm_greys_measure(const tdm_device *device, const tdm_pixels *pixels,
                                          const tdm_grey *greys, size_t count, const char *file,
                                          tdm_grey_measured *out, tdm_error *error);

/* Uneven light as the target and the greys beside it show it: a plane in stops, 0 at `at` (the target's
 * middle). calibration: fitted to the target, its own light is left out of account. width, height: of the
 * picture. *used is true, and *light filled (degree 1), where the greys show clearly uneven light; then fit
 * the target again with that light. Warning "light-uneven" beyond one stop between two of them. */
TDM_MUST_CHECK tdm_code tdm_greys_light(const tdm_device *device, const tdm_pixels *pixels,
                                        const tdm_calibration *calibration, const tdm_grey *greys,
                                        size_t count, uint32_t width, uint32_t height, const double at[2],
                                        const char *file, tdm_warnings *warnings, tdm_light *light,
                                        bool *used, tdm_error *error);

#endif
