/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Uncertainty budgets: what each value's u is made of. */
#ifndef TDM_MEASURE_BUDGET_H
#define TDM_MEASURE_BUDGET_H

#include "measure/zone_reading.h"

/* What lies outside a zone's own picture and still makes its figures uncertain: standard uncertainties (k =
 * 1). */
typedef struct tdm_sources {
    double lstar;       /* L* of hair that the calibration leaves */
    double stops;       /* light at the zone against that where the calibration was fitted, in stops */
    double stops_along; /* change of light from the zone's root to its ends, in stops */
    double scale;       /* of mm a pixel, relative */
    double plane;       /* of mm a pixel at the hair for its not lying in the scale's plane, relative */
} tdm_sources;

/* Expanded: twice the root of the sum of squares; parts that are NaN count as nothing known and make it NaN.
 */
double tdm_budget_u(const tdm_budget *parts);

/* All parts times a factor. */
tdm_budget tdm_budget_times(const tdm_budget *parts, double factor);

/* Of a lightness. sampling: standard. gloss: linear light that shine may have added, Y = 1 for the diffuser.
 */
tdm_budget tdm_lightness_budget(const tdm_sources *sources, double lstar, double sampling, double gloss);

/* Of a difference of L* between two places of one zone around lstar, or of a CIEDE2000 taken the same way: a
 * wrong exposure or other light multiplies XYZ, and so L* + 16 (ISO/CIE 11664-4) and every difference of L*,
 * by one factor. */
tdm_budget tdm_difference_budget(const tdm_sources *sources, double lstar, double difference, double sampling,
                                 double gloss);

/* Of a length along or across the strip; without a scale it has no such parts. */
tdm_budget tdm_length_budget(const tdm_sources *sources, double length, double sampling);

/* Writes a value of the zone with u from its parts, and keeps these. where: one of the zone's VALUE figures.
 */
void tdm_put(struct tdm_zone_reading *zone, tdm_value *where, double value, const tdm_budget *parts);

/* The parts of one of the zone's VALUE figures; all zero where none were put. */
tdm_budget tdm_budget_of(const struct tdm_zone_reading *zone, const tdm_value *where);

#endif
