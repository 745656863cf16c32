/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Foreign text (file names, zone names) made fit to print, and numbers for machines. */
#ifndef TDM_REPORT_PLAIN_H
#define TDM_REPORT_PLAIN_H

#include <stdbool.h>

#include "base/text.h"

/* Adds string as valid UTF-8. Bytes that aren't become U+FFFD. */
void tdm_add_valid(tdm_text *text, const char *string);

/* As tdm_add_valid, and control characters, which could steer a terminal, become "?"; so does everything
 * beyond ASCII unless unicode. */
void tdm_add_printable(tdm_text *text, const char *string, bool unicode);

/* Columns that valid UTF-8 takes: its code points. */
size_t tdm_columns(const char *string, size_t bytes);

/* Six significant digits, as short as they go, never an exponent; nothing at all where not finite. */
void tdm_add_short(tdm_text *text, double value);

#endif
