/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Strands of one area: root, mid-lengths or ends. */
#ifndef TDM_MEASURE_STRAND_AREA_H
#define TDM_MEASURE_STRAND_AREA_H

#include "measure/strand_field.h"
#include "measure/strand_parts.h"

/* [from, to) of the path. Inside the stretch below the line its populations are the stretch's; else the area
 * is asked for its own. What can't be told stays null. grid: the stretch's, marked where parts are separable.
 */
TDM_MUST_CHECK tdm_code tdm_strand_area_measure(const tdm_measure_input *input, const tdm_strand_field *field,
                                                const tdm_strand_grid *grid, const tdm_strand_parts *parts,
                                                double from, double to, struct tdm_zone_reading *reading,
                                                tdm_strand_area *out, tdm_error *error);

#endif
