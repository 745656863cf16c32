/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TDM_MEASURE_RIBBONS_H
#define TDM_MEASURE_RIBBONS_H

#include "measure/mixture.h"
#include "measure/strand_grid.h"

/* Runs of light strands across the zone: their width, spacing and where each begins. Lengths stay null
 * without a scale, and where a ribbon has under 3 pixels (warning "ribbons-too-fine"). */
TDM_MUST_CHECK tdm_code tdm_ribbons(const tdm_measure_input *input, const tdm_strand_grid *grid,
                                    const tdm_mixture *mixture, struct tdm_zone_reading *out,
                                    tdm_warnings *warnings, tdm_error *error);

#endif
