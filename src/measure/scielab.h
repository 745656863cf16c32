/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A strip as an eye at a distance sees it: S-CIELAB (Zhang and Wandell 1996, 1997). */
#ifndef TDM_MEASURE_SCIELAB_H
#define TDM_MEASURE_SCIELAB_H

#include "strip/strip.h"

enum { TDM_OPPONENTS = 3 /* luminance, red-green, blue-yellow */ };

/* A strip in opponent colours, made once for all distances. */
typedef struct tdm_scielab {
    size_t rows, cols;
    double cell;                 /* mm */
    float *plane[TDM_OPPONENTS]; /* rows * cols each: values, 0 where not used */
    float *share;                /* rows * cols: 1 where used */
} tdm_scielab;

/* strip must be scaled. */
TDM_MUST_CHECK tdm_code tdm_scielab_make(const tdm_strip *strip, tdm_scielab *out, tdm_error *error);
void tdm_scielab_free(tdm_scielab *scielab);

/* What is seen, on cells of a whole number of the strip's: as many as fit the finest spread of the eye's. */
typedef struct tdm_seen {
    size_t rows, cols;
    double cell;  /* mm; the cells at the far edges may be smaller */
    float *lab;   /* rows * cols * 3: CIELAB D50 */
    uint8_t *use; /* rows * cols: 1 where at least half of the cell is used */
} tdm_seen;

/* distance_m: of the eye, over 0. */
TDM_MUST_CHECK tdm_code tdm_scielab_see(const tdm_scielab *scielab, double distance_m, tdm_seen *out,
                                        tdm_error *error);
void tdm_seen_free(tdm_seen *seen);

/* mm that an angle at the eye covers. */
double tdm_view_mm(double distance_m, double degrees);

#endif
