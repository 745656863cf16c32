/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A view of strands made by hand, left and right as in the strip: mirrored on the picture. Two zones, "front"
 * and "nape", each 100 mm by 40 mm of dark hair, light from 10 to 20 mm from the left edge and from 20 mm
 * below the root on; nothing is known of the first 2 mm from the left. In front a ribbon is followed from 30
 * to 60 mm, where it starts; nape's strands aren't separable. Both, and a photograph of grey paper with
 * front's path down its middle, at two pixels a mm, if wanted. */
#ifndef TDM_TESTS_MADE_STRANDS_H
#define TDM_TESTS_MADE_STRANDS_H

#include "report/strand_map_parts.h"

extern const unsigned made_dark_rgb[3], made_light_rgb[3];

/* The reading is the caller's; front's skip map is by its strands. */
tdm_strand_view *made_strands(tdm_reading *reading, bool with_photo);
tdm_reading *made_strands_reading(void);

#endif
