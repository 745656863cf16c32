/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How uncertain light, scale and correction are at one zone. */
#ifndef TDM_MEASURE_SOURCES_H
#define TDM_MEASURE_SOURCES_H

#include "measure/budget.h"
#include "measure/sitting.h"

tdm_sources tdm_sources_at(const tdm_sitting *sitting, size_t zone);

#endif
