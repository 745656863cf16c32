/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A table taken apart into rows and columns by medians: Tukey, Exploratory Data Analysis (1977). */
#ifndef TDM_MEASURE_POLISH_H
#define TDM_MEASURE_POLISH_H

#include <stddef.h>
#include <stdint.h>

/* Takes row and column effects from values (rows * cols; NaN where nothing is known, and stays so): what is
 * left has medians of nearly nought along each row and column. without (rows * cols, or NULL): not 0 for
 * those that the medians don't look at, where a quarter of the others is left. scratch: room for the longer
 * of both. */
void tdm_polish(double *values, const uint8_t *without, size_t rows, size_t cols, double *scratch);

#endif
