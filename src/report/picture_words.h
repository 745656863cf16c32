/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What pictures of straightened zones say: words, a ruler, a name. Lengths in pixels, unless mm. */
#ifndef TDM_REPORT_PICTURE_WORDS_H
#define TDM_REPORT_PICTURE_WORDS_H

#include <cairo.h>

#include "base/text.h"

/* Words in dark strokes; letters that there are no strokes for are left blank. Returns the width. */
double tdm_picture_write(cairo_t *cairo, const char *text, double x, double y, double height, double weight);

/* Words of that height broken at spaces; returns the height they take. Drawn where cairo isn't NULL. */
double tdm_picture_paragraph(cairo_t *cairo, const char *words, double left, double top, double width,
                             double height);

/* Adds a zone's name, and its number before it where some of the name's letters have no strokes. */
void tdm_picture_name(tdm_text *text, const char *name, size_t number);

/* Ticks every 10 mm, numbers every 20, to the left of x, for a zone whose path begins `root` mm from the root
 * line at y and is `length` mm long. */
void tdm_picture_ruler(cairo_t *cairo, double x, double y, double per_mm, double root, double length);

#endif
