/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TDM_MEASURE_ZONE_H
#define TDM_MEASURE_ZONE_H

#include "measure/budget.h"
#include "measure/zone_reading.h"
#include "strip/strip.h"

#include "colour/level.h"

/* Runs every measure on one straightened zone. What the zone can't carry stays null, with a warning. *out is
 * initialised, and named. */
TDM_MUST_CHECK tdm_code tdm_zone_measure(const tdm_strip *strip, const tdm_sources *sources,
                                         const tdm_level_scale *scale, const tdm_read_options *options,
                                         struct tdm_zone_reading *out, tdm_warnings *warnings,
                                         tdm_error *error);

#endif
