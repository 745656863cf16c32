/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The parts of a plan's map. Lengths in pixels, unless mm. */
#ifndef TDM_REPORT_PLAN_MAP_H
#define TDM_REPORT_PLAN_MAP_H

#include <cairo.h>
#include <stdbool.h>

#include "plan/plan_parts.h"

/* One zone's place on the map, from the left: ruler, bar of the shade, hair as it is, hair after the melt. */
typedef struct tdm_map_panel {
    const tdm_planned_zone *zone;
    double left, top; /* of the hair's root */
    double per_mm;
    double width, height; /* of the hair, one picture of it */
} tdm_map_panel;

enum { TDM_MAP_RULER = 56, TDM_MAP_BAR = 26, TDM_MAP_GAP = 10 };

double tdm_map_panel_width(const tdm_map_panel *panel);

/* plan_map_hair.c: pixels of the hair, with what is not to be lightened hatched, and of the hair after the
 * melt.
 */
TDM_MUST_CHECK tdm_code tdm_map_hair(const tdm_map_panel *panel, cairo_surface_t *surface, tdm_error *error);

/* plan_map_draw.c: ruler, shade and places; the lines of words above. */
void tdm_map_rule(cairo_t *cairo, const tdm_map_panel *panel);
/* False when out of memory. */
bool tdm_map_title(cairo_t *cairo, const tdm_map_panel *panel, size_t number);

#endif
