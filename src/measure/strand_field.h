/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which way the strands run at each place of a straightened zone, from the structure tensor (Bigun and
 * Granlund 1987). */
#ifndef TDM_MEASURE_STRAND_FIELD_H
#define TDM_MEASURE_STRAND_FIELD_H

#include "strip/strip.h"

typedef struct tdm_strand_field {
    size_t rows, cols; /* nodes along and across; node (i, j) lies at ((i + 0.5) step, (j + 0.5) step) from
                          the path's start and the strip's left edge */
    double step;       /* in the strip's units */
    double *slope; /* rows * cols: how far across a strand gets for each unit along; above 0 to the right on
                      the way to the ends; smooth, and 0 where nothing can be told */
    double *coherence; /* rows * cols: 0 no direction, 1 one direction only */
} tdm_strand_field;

/* *out is filled only on TDM_OK, and freed with tdm_strand_field_free. */
TDM_MUST_CHECK tdm_code tdm_strand_field_make(const tdm_strip *strip, tdm_strand_field *out,
                                              tdm_error *error);
void tdm_strand_field_free(tdm_strand_field *field);

/* Places in the strip's units: along from the path's start, across from the strip's left edge; beyond the
 * outermost nodes theirs hold. */
double tdm_strand_field_slope(const tdm_strand_field *field, double along, double across);

/* Where across the strand that passes (along, across) lies at `to`, above or below; it may leave the strip.
 */
double tdm_strand_field_follow(const tdm_strand_field *field, double along, double across, double to);

#endif
