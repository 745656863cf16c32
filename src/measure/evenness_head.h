/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a head's zones tell together and none of them alone. */
#ifndef TDM_MEASURE_EVENNESS_HEAD_H
#define TDM_MEASURE_EVENNESS_HEAD_H

#include "measure/zone_contrast.h"

/* Zone against zone and left against right. The head's own colours must be there; null stays what there is
 * nothing to compare for. */
void tdm_evenness_head(const tdm_head_zones *all, struct tdm_zone_reading *head);

/* The face frame against the rest (frame.c). */
void tdm_frame_head(const tdm_head_zones *all, struct tdm_zone_reading *head);

#endif
