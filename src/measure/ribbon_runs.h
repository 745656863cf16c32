/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Runs of light hair across: where each begins and ends, to parts of a column. */
#ifndef TDM_MEASURE_RIBBON_RUNS_H
#define TDM_MEASURE_RIBBON_RUNS_H

#include "measure/strand_grid.h"

/* Lengths in the strip's units, from its left edge. */
typedef struct tdm_run {
    double left, right;
    double slope;             /* of its strands, mean over the run */
    bool cut_left, cut_right; /* it goes on where nothing can be seen: the zone's edge, or cells left out */
    bool apart;               /* cells left out lie between it and the run before */
} tdm_run;

typedef struct tdm_run_table {
    size_t windows;
    size_t *first; /* windows + 1: those of window w are runs[first[w]] up to runs[first[w + 1]] */
    tdm_run *runs;
} tdm_run_table;

/* Runs in one row of light at columns of width `cell`, where it is over one half; edges between the middles
 * of columns by straight lines. Gaps under `least` are closed and shorter runs left out. out: room for
 * cols / 2 + 1. slope may be NULL. Returns their number. */
size_t tdm_runs_find(const double *light, const double *slope, size_t cols, double cell, double least,
                     tdm_run *out);

/* Width perpendicular to the strands. */
double tdm_run_width(const tdm_run *run);

/* Where across a strand that passes (window, across) lies one window further down (step 1) or up (step -1).
 */
double tdm_grid_follow(const tdm_strand_grid *grid, double cell, size_t window, double across, int step);

/* The grid's light, each place the mean of that along its strand over `reach` windows to either side: a
 * single hair that crosses no longer parts a ribbon. out: windows * cols. */
void tdm_grid_smooth(const tdm_strand_grid *grid, double cell, size_t reach, double *out);

/* Runs of every window of light (windows * cols, as grid->light); freed with tdm_run_table_free. */
TDM_MUST_CHECK tdm_code tdm_run_table_make(const tdm_strand_grid *grid, const double *light, double cell,
                                           double least, tdm_run_table *out, tdm_error *error);
void tdm_run_table_free(tdm_run_table *table);

#endif
