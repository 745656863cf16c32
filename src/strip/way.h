/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The way back from a straightened zone to the photograph. */
#ifndef TDM_STRIP_WAY_H
#define TDM_STRIP_WAY_H

#include "strip/path.h"
#include "strip/strip.h"

typedef struct tdm_strip_way {
    tdm_path path; /* owned; count 0: none */
    double px;     /* pixels to one of the strip's units */
} tdm_strip_way;

/* unit: of the strip that was made of the zone, in pixels (cell_px / cell). */
TDM_MUST_CHECK tdm_code tdm_strip_way_make(const tdm_marks *marks, size_t zone, double unit,
                                           tdm_strip_way *out, tdm_error *error);
void tdm_strip_way_free(tdm_strip_way *way);

/* The upright picture's x, y of a place: along from the path's start, across from the path to the right, both
 * in the strip's units. */
void tdm_strip_way_back(const tdm_strip_way *way, double along, double across, double out[2]);

/* Full width of the zone there, in the strip's units. */
double tdm_strip_way_width(const tdm_strip_way *way, double along);

#endif
