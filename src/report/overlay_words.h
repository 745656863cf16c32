/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Letters of strokes. A font would be another on each machine, and looking for one writes to disk and to the
 * terminal. */
#ifndef TDM_REPORT_OVERLAY_WORDS_H
#define TDM_REPORT_OVERLAY_WORDS_H

#include <cairo.h>

/* Width and height of the text where a digit is `height` high. Letters that go below the line do so by a
 * quarter more. */
double tdm_words_width(const char *text, double height);

/* Adds the strokes to the path; x, y is the upper left corner. Characters that have no strokes here (see the
 * table) are left blank. */
void tdm_words_path(cairo_t *cairo, const char *text, double x, double y, double height);

#endif
