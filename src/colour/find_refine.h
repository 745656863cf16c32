/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The target's place to a fraction of a pixel, from the edges of its patches. */
#ifndef TDM_COLOUR_FIND_REFINE_H
#define TDM_COLOUR_FIND_REFINE_H

#include "colour/homography.h"
#include "photo/photo.h"

/* map: column and row of patches, whole numbers at their middles, to the photograph; near enough at first
 * that every edge is within 0.05 of the pitch. Left as it is where the edges don't settle it. */
TDM_MUST_CHECK tdm_code tdm_find_refine(tdm_photo *photo, tdm_homography *map, tdm_error *error);

#endif
