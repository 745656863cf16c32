/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a reading would say of the line on a strip. */
#ifndef TDM_PLAN_SIMULATE_H
#define TDM_PLAN_SIMULATE_H

#include "plan/melt.h"

typedef struct tdm_line_figures {
    tdm_shape shape;
    double centre_mm, width_mm; /* NaN where the fall has no line */
    double dprime;              /* at the distance asked for */
} tdm_line_figures;

/* Fall and visibility, measured as a reading measures them. */
TDM_MUST_CHECK tdm_code tdm_line_measure(const tdm_strip *strip, double distance_m, tdm_line_figures *out,
                                         tdm_error *error);

/* The hair with a melt, measured. scratch: a strip of the hair's size whose xyz and lab are overwritten. */
TDM_MUST_CHECK tdm_code tdm_melt_measure(const tdm_hair *hair, const tdm_melt *melt, double distance_m,
                                         tdm_strip *scratch, tdm_line_figures *out, tdm_error *error);

#endif
