/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How far the hair has grown since it was last coloured, and how fast. METHODS.md has rules and sources. */
#ifndef TDM_MEASURE_REGROWTH_H
#define TDM_MEASURE_REGROWTH_H

#include "measure/budget.h"
#include "measure/reading_parts.h"

enum { TDM_LEAST_GROWTH_DAYS = 14 /* under which a pace would be all uncertainty: choice */ };

extern const double tdm_days_a_month;  /* 30.44: 365.25 / 12 */
extern const double tdm_usual_slowest; /* mm a month, of groups' means */
extern const double tdm_usual_fastest;

/* Growth a month from a length grown in so many days, above 0. */
double tdm_growth_rate(double mm, double days);

/* Its standard uncertainty for the days alone. */
double tdm_growth_date_part(double mm, double days);

/* "usual" within the published range widened by u, "slow" below, "fast" above it; NULL where either isn't
 * known. */
const char *tdm_growth_pace(tdm_value mm_per_month);

/* Puts a pace that isn't usual into a warning, "regrowth-out-of-range"; nothing otherwise. lead begins the
 * sentence. */
TDM_MUST_CHECK tdm_code tdm_growth_warn(tdm_warnings *warnings, const char *zone, const char *lead,
                                        tdm_value mm_per_month, tdm_error *error);

/* Days that aren't real, as far as that can be seen without the photograph: TDM_ERR_USAGE. */
TDM_MUST_CHECK tdm_code tdm_regrowth_check(const tdm_read_options *options, tdm_error *error);

/* Notes in the reading when the photograph was taken (by the options, else by what it holds already from
 * EXIF), when the hair was coloured and the days between; warns where growth was asked for and can't be told.
 * TDM_ERR_USAGE for a colour after the photograph. */
TDM_MUST_CHECK tdm_code tdm_regrowth_dates(const tdm_read_options *options, const char *path,
                                           tdm_reading *reading, tdm_error *error);

/* Fills a zone's regrowth from its line. days NaN: nothing was asked, and all stays null. */
TDM_MUST_CHECK tdm_code tdm_regrowth_measure(double days, struct tdm_zone_reading *zone,
                                             tdm_warnings *warnings, tdm_error *error);

#endif
