/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whether ribbons come at even distances: the stripe that an eye can follow. */
#ifndef TDM_MEASURE_RIBBON_PERIOD_H
#define TDM_MEASURE_RIBBON_PERIOD_H

#include "measure/ribbon_runs.h"

typedef struct tdm_ribbon_period {
    double period;       /* across the strands, in the strip's units; NaN where none is sought */
    double strength;     /* share of the light's variance across that a wave of it holds, 0 to 1 */
    double spacing_cv;   /* of whole ribbons side by side */
    double ribbons;      /* across, mean number */
    const char *pattern; /* "regular", "random"; NULL where there are too few */
} tdm_ribbon_period;

/* light: the grid's, smoothed along the strands (windows * cols); table: the runs in it. */
TDM_MUST_CHECK tdm_code tdm_ribbon_period_find(const tdm_strand_grid *grid, const double *light,
                                               const tdm_run_table *table, double cell,
                                               tdm_ribbon_period *out, tdm_error *error);

#endif
