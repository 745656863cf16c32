/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How uncertain light, scale and correction are at one zone. */
#ifndef TDM_MEASURE_SOURCES_H
#define TDM_MEASURE_SOURCES_H

#include "measure/budget.h"
#include "measure/sitting.h"

/* How far the light at one place of the picture may be from that at another: root mean square, in stops.
 * Upright pixels. */
double tdm_sources_stops(const tdm_sitting *sitting, const double from[2], const double to[2]);

tdm_sources tdm_sources_at(const tdm_sitting *sitting, size_t zone);

#endif
