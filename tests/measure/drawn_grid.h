/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Grids of light share made of ribbons whose edges are known. */
#ifndef TESTS_MEASURE_DRAWN_GRID_H
#define TESTS_MEASURE_DRAWN_GRID_H

#include "measure/strand_grid.h"
#include "measure/synthetic.h"

enum { DRAWN_MOST = 400 };

/* Ribbons at the grid's upper edge, mm from its left edge; they run down by `slope`, and wave. */
typedef struct drawn_ribbons {
    double left[DRAWN_MOST], right[DRAWN_MOST];
    size_t count;
    double slope;
    double wave, wavelength; /* mm: amplitude across, and length along; no wave where 0 */
} drawn_ribbons;

/* Ribbons of a mean width from `from` to `to`: regular, with equal gaps and widths that differ by 5 %, or
 * with exponential gaps and widths by 40 %. share: of light. seed: 0 up. */
void drawn_lay(drawn_ribbons *out, double from, double to, double width, double share, bool regular,
               unsigned seed);

/* Light share of each column at the middle of each window of 2 mm, by the part of the column that ribbons
 * cover; and the strands' slope. Aborts the test when out of memory. */
void drawn_grid(const drawn_ribbons *ribbons, double length, double width, double cell, tdm_strand_grid *out);

/* A zone of that size without hair, for what a measure needs beside the grid. */
void drawn_zone(double length, double width, double cell, synthetic_zone *out);

#endif
