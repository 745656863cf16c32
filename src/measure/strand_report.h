/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Populations of strands as figures with their uncertainties. */
#ifndef TDM_MEASURE_STRAND_REPORT_H
#define TDM_MEASURE_STRAND_REPORT_H

#include "measure/measure.h"
#include "measure/strand_parts.h"

/* Of the whole stretch, into out->strands. */
void tdm_strand_parts_report(const tdm_measure_input *input, const tdm_strand_grid *grid,
                             const tdm_strand_parts *parts, struct tdm_zone_reading *out);

/* Budgets of a share, and of a contrast in L* between these colours; sampling: expanded, of each. */
tdm_budget tdm_strand_share_budget(double sampling);
tdm_budget tdm_strand_contrast_budget(const tdm_measure_input *input, const tdm_strand_grid *grid,
                                      const double light[3], const double dark[3], double sampling);

#endif
