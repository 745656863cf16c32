/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The smooth curve through a zone's marked points, measured along its length. All in pixels. */
#ifndef TDM_STRIP_PATH_H
#define TDM_STRIP_PATH_H

#include <stdbool.h>

#include "marks/marks.h"
#include "tidemark/error.h"

/* Fine polyline of the centripetal Catmull-Rom curve (Yuksel, Schaefer and Keyser 2011). */
typedef struct tdm_path {
    double *along; /* arc length at each sample, from 0 */
    double *xy;    /* count pairs */
    double *width; /* full width in px, linear between the marked points */
    size_t count;
} tdm_path;

/* A place on the path with its local frame. */
typedef struct tdm_path_place {
    double x, y;
    double dx, dy; /* unit direction towards the ends */
    double width;
} tdm_path_place;

/* px_per_mm is used for widths in mm. */
TDM_MUST_CHECK tdm_code tdm_path_make(const tdm_zone_marks *zone, double px_per_mm, tdm_path *out,
                                      tdm_error *error);
void tdm_path_free(tdm_path *path);

double tdm_path_length(const tdm_path *path);
tdm_path_place tdm_path_at(const tdm_path *path, double along);
double tdm_path_widest(const tdm_path *path);

#endif
