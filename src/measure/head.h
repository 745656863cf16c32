/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TDM_MEASURE_HEAD_H
#define TDM_MEASURE_HEAD_H

#include "colour/level.h"
#include "measure/zone_reading.h"

/* The zones taken together: means by weight (the marks' weight times the zone's used area, in areas), colours
 * in linear light. Uncertainties are averaged, not shrunk: zones share one calibration, so their errors don't
 * cancel. A word is that of most weight, the line's grade that of the hardest zone. *head is initialised and
 * empty. */
TDM_MUST_CHECK tdm_code tdm_head_make(const struct tdm_zone_reading *zones, const double *areas, size_t count,
                                      const tdm_level_scale *scale, struct tdm_zone_reading *head,
                                      tdm_error *error);

#endif
