/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Readings made by hand, so that what compares and reports them is tested without a photograph. */
#ifndef TDM_TESTS_MADE_READING_H
#define TDM_TESTS_MADE_READING_H

#include "measure/reading_parts.h"

/* A usable reading of `zones` zones ("zone 1", "zone 2" …), target calibration, 0.1 mm a pixel, every figure
 * null. Free with tdm_reading_free. */
tdm_reading *made_reading(const char *file, size_t zones);

/* Puts a figure of its own, known by its place in the table, into every VALUE, NUMBER, FLAG, WORD and LAB of
 * a zone, and a profile of 21 points from L* 20 to 60 over 200 mm. Figure i: value i + 0.25, u i / 100; Lab
 * (20 + i, i / 10, -i / 10). */
void made_fill(struct tdm_zone_reading *zone);

/* The grown-out head of the examples: hard line at 34 mm, root of level 4.0, strands apart. `after` gives the
 * same head melted: soft, 41 mm wide, root of level 5.2. */
void made_regrowth(struct tdm_zone_reading *zone, bool after);

char *made_copy(const char *string);

#endif
