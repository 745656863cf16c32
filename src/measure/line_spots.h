/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Gaps in the line, and spots of the lengths' colour above it. */
#ifndef TDM_MEASURE_LINE_SPOTS_H
#define TDM_MEASURE_LINE_SPOTS_H

#include "measure/line_columns.h"
#include "measure/stagger.h"

/* Stretches of flat columns, in the strip's units; items are owned by the caller, not NULL for none. */
TDM_MUST_CHECK tdm_code tdm_line_gaps(const tdm_measure_input *input, const tdm_line *line,
                                      const tdm_stagger_fit *fit, double width, tdm_places *out,
                                      tdm_error *error);

/* Spots above the line that aren't connected to the lengths. */
TDM_MUST_CHECK tdm_code tdm_line_bleeds(const tdm_measure_input *input, const tdm_line *line,
                                        const tdm_stagger_fit *fit, double width, tdm_places *out,
                                        tdm_error *error);

#endif
