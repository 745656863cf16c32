/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A target's reading made by hand, so that what reports it is tested without a fit. */
#ifndef TDM_TESTS_MADE_TARGET_H
#define TDM_TESTS_MADE_TARGET_H

#include "measure/target_reading.h"

enum { MADE_PITCH = 60 };

/* An upright drawn target, found with confidence 0.98: errors 7.25 to 1.25 in the mean, 1.75 left out, patch
 * 14 (red) odd, patch 15 (yellow) clipped, patch i with de00_after i / 10. Each sampled area is 25 px wide in
 * patches of 51 at a pitch of 60, the block's first corner at 30, 30. Free with tdm_target_reading_free. */
tdm_target_reading *made_target(void);

#endif
