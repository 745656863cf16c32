/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows of a measured reference, from words to CIELAB. */
#ifndef TDM_COLOUR_REFERENCE_ROWS_H
#define TDM_COLOUR_REFERENCE_ROWS_H

#include "colour/reference_parts.h"

/* In the order of the file. */
typedef struct tdm_reference_rows {
    size_t count;
    unsigned line[TDM_REFERENCE_PATCHES];
    tdm_span id[TDM_REFERENCE_PATCHES], name[TDM_REFERENCE_PATCHES]; /* into the text; empty where none */
    double value[TDM_REFERENCE_PATCHES][TDM_SPECTRUM_BANDS]; /* Lab, XYZ or reflectance as it stands */
} tdm_reference_rows;

/* Takes the line that was just read. */
TDM_MUST_CHECK tdm_code tdm_reference_row(const tdm_cgats *in, const tdm_reference_columns *columns,
                                          tdm_reference_rows *rows);
/* The row of each patch. SAMPLE_NAME counts where its first row says a patch, else SAMPLE_ID. */
TDM_MUST_CHECK tdm_code tdm_reference_assign(const tdm_cgats *in, const tdm_reference_rows *rows,
                                             int at[TDM_REFERENCE_PATCHES]);
TDM_MUST_CHECK tdm_code tdm_reference_colours(const tdm_cgats *in, const tdm_reference_columns *columns,
                                              tdm_reference_rows *rows, const int at[TDM_REFERENCE_PATCHES],
                                              double lab[TDM_REFERENCE_PATCHES][3]);

#endif
