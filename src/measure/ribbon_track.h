/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Ribbons followed from window to window along their strands. */
#ifndef TDM_MEASURE_RIBBON_TRACK_H
#define TDM_MEASURE_RIBBON_TRACK_H

#include "measure/ribbon_runs.h"
#include "measure/strand_map.h"

/* Links runs of neighbouring windows that overlap, the one put forward along its strands; what is seen over
 * at least `least` windows is a ribbon. start and onset stay NaN. *out is owned by the caller, each with its
 * edges. */
TDM_MUST_CHECK tdm_code tdm_ribbon_track(const tdm_strand_grid *grid, const tdm_run_table *table, double cell,
                                         size_t least, tdm_ribbon **out, size_t *count, tdm_error *error);

#endif
