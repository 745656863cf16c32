/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which swatches spoil the rise of lightness with level. */
#ifndef TDM_MEASURE_SWATCH_ORDER_H
#define TDM_MEASURE_SWATCH_ORDER_H

#include <stdbool.h>
#include <stddef.h>

enum { TDM_SWATCHES = 32 };

/* count (at most TDM_SWATCHES) swatches in the order of their levels, which rise strictly; L* above 0. Sets
 * rising false for the fewest whose removal leaves the rest rising strictly in L*; of several such sets, for
 * those that lie furthest from the trend of all. Returns how many. */
size_t tdm_swatch_order(const double *levels, const double *lstars, size_t count, bool *rising);

#endif
