/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The line in columns across the zone, each fitted on its own. */
#ifndef TDM_MEASURE_LINE_COLUMNS_H
#define TDM_MEASURE_LINE_COLUMNS_H

#include "measure/measure.h"

typedef enum tdm_column_state {
    TDM_COLUMN_EMPTY, /* too little of it can be used */
    TDM_COLUMN_FLAT,  /* surely less than half of the line's usual step where the line would be */
    TDM_COLUMN_UNSURE,
    TDM_COLUMN_STEP
} tdm_column_state;

/* Lengths in the strip's units, along from the path's start, across from the zone's left edge. */
typedef struct tdm_line {
    double *across, *centre, *width; /* count: of the columns that have a step, in the order across */
    double *variance;                /* count: of the centre, from the column's own noise */
    double *step;                    /* count: heights, signed, CIELAB units */
    size_t count, tried;
    uint8_t *state; /* columns: tdm_column_state */
    size_t columns;
    double column; /* width of one */
} tdm_line;

/* The zone's fall must be a transition or a band. *out is filled on TDM_OK, freed with tdm_line_free. */
TDM_MUST_CHECK tdm_code tdm_line_make(const tdm_measure_input *input, tdm_line *out, tdm_error *error);
void tdm_line_free(tdm_line *line);

/* Where the middle of a column lies. */
double tdm_line_across(const tdm_line *line, size_t column);

#endif
