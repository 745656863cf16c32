/* SPDX-License-Identifier: GPL-3.0-or-later */
/* RFC 4180: cells and rows. */
#ifndef TDM_REPORT_CSV_ROW_H
#define TDM_REPORT_CSV_ROW_H

#include "base/text.h"
#include "tidemark/error.h"

/* Starts as {0}. */
typedef struct tdm_csv {
    tdm_text text;
    size_t cells; /* in the row that is being written */
} tdm_csv;

void tdm_csv_word(tdm_csv *csv, const char *word); /* NULL is an empty cell */
void tdm_csv_number(tdm_csv *csv, double value);   /* an empty cell where not finite */
/* A heading of two parts: prefix and name, and a suffix. */
void tdm_csv_heading(tdm_csv *csv, const char *prefix, const char *name, const char *suffix);
void tdm_csv_end_row(tdm_csv *csv);

/* Gives the text away. */
TDM_MUST_CHECK tdm_code tdm_csv_finish(tdm_csv *csv, char **out, tdm_error *error);

#endif
