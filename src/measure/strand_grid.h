/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The hair below the line in short windows along the fall by columns across, freed of the course from root to
 * ends: what is left is strand against strand. */
#ifndef TDM_MEASURE_STRAND_GRID_H
#define TDM_MEASURE_STRAND_GRID_H

#include "measure/measure.h"
#include "measure/strand_field.h"

typedef struct tdm_strand_grid {
    size_t windows;  /* along the fall, each 2 mm */
    size_t cols;     /* the strip's */
    double window;   /* a window's length, in the strip's units */
    double from, to; /* stretch of the path, in the strip's units */
    double *lab; /* windows * cols * 3: freed CIELAB, around the stretch's mean; NaN where nothing is used */
    double axis[3]; /* unit vector in CIELAB that tells light from dark */
    double *score;  /* windows * cols: lab along the axis that tells light from dark, 0 at its mean; or NaN */
    double *slope;  /* windows * cols: of the strands, as in tdm_strand_field */
    double *light;  /* windows * cols: share of light hair, 0 to 1, once the parts are known; NaN as lab */
} tdm_strand_grid;

/* Each place of a grid is the mean over so much of the strand that runs through it, mm or the strip's units.
 */
extern const double tdm_strand_reach;

/* Where strands are looked at: below the line's 90 % point, where light strands are light; the whole path
 * where there is no line. Never less than the last third: a soft fall may not be over before the ends. */
void tdm_strand_stretch(const tdm_fall *fall, double *from, double *to);

/* The part [from, to) of the path, each place the mean along its strand as far as that lies in the part.
 * TDM_ERR_UNUSABLE where it is too short (under 18 mm or 3 windows). */
TDM_MUST_CHECK tdm_code tdm_strand_grid_make(const tdm_strip *strip, const tdm_strand_field *field,
                                             double from, double to, tdm_strand_grid *out, tdm_error *error);
void tdm_strand_grid_free(tdm_strand_grid *grid);

/* Finds the axis that tells light from dark best, and the scores along it. */
TDM_MUST_CHECK tdm_code tdm_strand_grid_score(tdm_strand_grid *grid, tdm_error *error);

/* The windows of a grid whose middles lie in [from, to); owns nothing, and lives no longer than it. */
tdm_strand_grid tdm_strand_grid_part(const tdm_strand_grid *grid, double from, double to);

#endif
