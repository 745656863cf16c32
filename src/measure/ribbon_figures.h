/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Widths, spacing and number of the ribbons of any part of a zone. */
#ifndef TDM_MEASURE_RIBBON_FIGURES_H
#define TDM_MEASURE_RIBBON_FIGURES_H

#include "measure/ribbon_runs.h"

/* mm, perpendicular to the strands; NaN where there are too few, without a scale (but the ratio cv), and
 * where ribbons are too fine. Parts of uncertainties are standard. */
typedef struct tdm_ribbon_figures {
    double median, p25, p75; /* each ribbon counted by its width */
    double median_sampling;
    double spacing_median, spacing_cv;
    double per_100mm, per_100mm_sampling; /* ribbons in 100 mm */
    size_t gaps;                          /* spacings that were seen */
    bool too_fine;                        /* under 3 pixels */
} tdm_ribbon_figures;

/* grid: of the whole stretch or of a part, with light and slope filled. */
TDM_MUST_CHECK tdm_code tdm_ribbon_runs(const tdm_measure_input *input, const tdm_strand_grid *grid,
                                        tdm_ribbon_figures *out, tdm_error *error);

/* Runs in the light smoothed along the strands: a single hair that crosses no longer parts a ribbon. */
TDM_MUST_CHECK tdm_code tdm_ribbon_smooth(const tdm_strip *strip, const tdm_strand_grid *grid,
                                          tdm_run_table *out, tdm_error *error);

#endif
