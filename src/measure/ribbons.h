/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TDM_MEASURE_RIBBONS_H
#define TDM_MEASURE_RIBBONS_H

#include "measure/ribbon_figures.h"
#include "measure/strand_field.h"

/* Ribbons of light strands over the whole stretch: width, spacing and number, weave, period, length, and
 * where and how softly each begins; and the ribbons of out->strands.map, which holds the grid's light.
 * field: NULL takes strands to run straight above the stretch. Lengths stay null without a scale; widths and
 * spacing also where a ribbon has under 3 pixels (warning "ribbons-too-fine"). */
TDM_MUST_CHECK tdm_code tdm_ribbons(const tdm_measure_input *input, const tdm_strand_field *field,
                                    const tdm_strand_grid *grid, struct tdm_zone_reading *out,
                                    tdm_warnings *warnings, tdm_error *error);

#endif
