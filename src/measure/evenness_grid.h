/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A zone in cells, each against what its row and its column make of it: what is left when the course from
 * root to ends, the roundness of the head and strands that run all the way are taken out. */
#ifndef TDM_MEASURE_EVENNESS_GRID_H
#define TDM_MEASURE_EVENNESS_GRID_H

#include "measure/measure.h"

typedef enum tdm_even_half { TDM_EVEN_WHOLE, TDM_EVEN_FIRST, TDM_EVEN_SECOND } tdm_even_half;

/* How cells are laid, in the strip's cells. */
typedef struct tdm_even_lay {
    size_t size, step;  /* a side; from one to the next: where less, they overlap */
    tdm_even_half half; /* every other quarter of the width of each: halves hold strands of their own */
    double line_from, line_to; /* stretch of the path that is left out, in the strip's units */
} tdm_even_lay;

/* Linear XYZ, rows * cols * 3. NaN where under half of a cell is used, or it touches the line. */
typedef struct tdm_even_grid {
    size_t rows, cols;
    double *own, *usual; /* as it is; as its row and column make it */
} tdm_even_grid;

TDM_MUST_CHECK tdm_code tdm_even_grid_make(const tdm_strip *strip, const tdm_even_lay *lay,
                                           tdm_even_grid *out, tdm_error *error);

/* Finds what is usual again, from other cells than those (rows * cols, not 0). */
TDM_MUST_CHECK tdm_code tdm_even_grid_without(tdm_even_grid *grid, const uint8_t *those, tdm_error *error);
void tdm_even_grid_free(tdm_even_grid *grid);

bool tdm_even_known(const tdm_even_grid *grid, size_t cell);

/* Cells of so many mm, half or a quarter of one from the next, past the line of the zone. A line's places
 * shift from column to column: beside it a cell may be of the root's colour or the lengths'. */
tdm_even_lay tdm_even_lay_of(const tdm_measure_input *input, const struct tdm_zone_reading *zone, double mm,
                             size_t steps);

/* evenness_warm.c: fills warm, warm_count and warmth. */
TDM_MUST_CHECK tdm_code tdm_even_warm(const tdm_measure_input *input, struct tdm_zone_reading *out,
                                      tdm_error *error);

#endif
