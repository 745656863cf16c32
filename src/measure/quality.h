/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Warnings about what the photograph can carry. Codes and thresholds stand in METHODS.md. */
#ifndef TDM_MEASURE_QUALITY_H
#define TDM_MEASURE_QUALITY_H

#include "measure/reading_parts.h"
#include "strip/strip.h"

TDM_MUST_CHECK tdm_code tdm_quality_photo(const tdm_marks *marks, const tdm_calibration *calibration,
                                          tdm_warnings *warnings, tdm_error *error);
/* *carries is set false where the zone can't be read at all. */
TDM_MUST_CHECK tdm_code tdm_quality_zone(const tdm_strip *strip, const char *zone, tdm_warnings *warnings,
                                         bool *carries, tdm_error *error);

#endif
