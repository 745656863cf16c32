/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A zone laid out straight: rows from the root to the ends, columns across. */
#ifndef TDM_STRIP_STRIP_H
#define TDM_STRIP_STRIP_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "colour/calibration.h"
#include "marks/marks.h"

typedef struct tdm_strip {
    size_t rows;    /* along the path: row i is centred (i + 0.5) * cell from the path's start */
    size_t cols;    /* across: column j is centred (j + 0.5 - cols / 2.0) * cell; t grows to the right of the
                       direction root to ends as seen in the upright picture */
    bool scaled;    /* cell, length and width are mm; else nominal units with a path length of 200 */
    double cell;    /* side of a cell: 0.25 mm, or one pixel where that is larger */
    double root;    /* from the root line to the strip's first row; 0 unless marked, and without a scale */
    double length;  /* of the path */
    double width;   /* mean full width */
    double cell_px; /* pixels a cell side, mean along the path */
    float *xyz;     /* rows * cols * 3: calibrated linear XYZ D50, mean over the cell's used area */
    float *lab;     /* the same in CIELAB */
    uint8_t *use;   /* rows * cols: 1 where at least half of the cell may be used */
    double used_share;     /* of the cells inside the zone's width */
    double excluded_share; /* masked by exclusions */
    double transparent_share;
    double clipped_share;
    double black_share;
    double outside_share; /* off the picture */
} tdm_strip;

/* Rectangle of the upright picture that the zone needs, cut to it. */
TDM_MUST_CHECK tdm_code tdm_strip_rect(const tdm_marks *marks, size_t zone, tdm_rect *out, tdm_error *error);

/* Straightens one zone by a centripetal Catmull-Rom curve through its path, area-averaging calibrated linear
 * light. pixels must hold tdm_strip_rect(). TDM_ERR_LIMIT past limits->strip_cells; TDM_ERR_UNUSABLE with
 * place "zones[i]" where no cell can be used. *out is filled only on TDM_OK and freed with tdm_strip_free. */
TDM_MUST_CHECK tdm_code tdm_strip_make(const tdm_device *device, const tdm_calibration *calibration,
                                       const tdm_pixels *pixels, const tdm_marks *marks, size_t zone,
                                       const tdm_limits *limits, const char *file, tdm_strip *out,
                                       tdm_error *error);
void tdm_strip_free(tdm_strip *strip);

#endif
