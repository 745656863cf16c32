/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A zone in squares of some millimetres: what lies together, and where. */
#ifndef TDM_MEASURE_SQUARES_H
#define TDM_MEASURE_SQUARES_H

#include "measure/measure.h"

/* Sums of linear XYZ over the used cells of rows [row, row + rows) and columns likewise, cut to the strip.
 * Returns how many there were. */
double tdm_square_sum(const tdm_strip *strip, size_t row, size_t rows, size_t col, size_t cols,
                      double xyz[3]);

/* Marks of squares: 0 for those that don't count. Borrowed. */
typedef struct tdm_squares {
    size_t rows, cols;
    double side;   /* in the strip's units */
    uint8_t *mark; /* rows * cols; taken ones become 0 */
    size_t *queue; /* room for rows * cols */
} tdm_squares;

/* Marked squares that touch by side or corner. */
typedef struct tdm_square_group {
    size_t count, top, bottom, left, right; /* bottom and right: past the last */
    const size_t *members;                  /* count places in mark: the queue, until the next group */
} tdm_square_group;

tdm_square_group tdm_squares_gather(tdm_squares *of, size_t start);

tdm_place tdm_square_place(const tdm_strip *strip, double side, const tdm_square_group *found);

/* From left to right, then from the root on. */
void tdm_places_sort(tdm_places *places);

#endif
