/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Finds the 24-patch target in a photograph by itself. */
#ifndef TDM_COLOUR_FINDER_H
#define TDM_COLOUR_FINDER_H

#include "colour/device.h"

typedef struct tdm_found_target {
    double corners[8]; /* outer corners of the block of patches: at dark skin, bluish green, black, white;
                          upright pixels */
    double turn_deg;   /* clockwise from upright (dark skin at the top left), -180 to 180 */
    bool mirrored;
    double confidence; /* 0 to 1: how sure it is that this is the target, this way round */
} tdm_found_target;

/* Any rotation, moderate perspective, partly shaded. *found false, and TDM_OK, where there is none: no target
 * is never mistaken for one. Where several fit, the surest. Decodes what it needs of the photograph. */
TDM_MUST_CHECK tdm_code tdm_target_find(const tdm_device *device, tdm_photo *photo, bool *found,
                                        tdm_found_target *out, tdm_error *error);

#endif
