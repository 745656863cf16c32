/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TDM_MEASURE_VISIBILITY_RANGE_H
#define TDM_MEASURE_VISIBILITY_RANGE_H

#include "measure/visibility_look.h"
#include "tidemark/figure.h"

/* Between 0.3 and 10 m: the nearest distance at which a line shows (d' at least 1), NaN where it never does;
 * and the nearest from which it shows no more, there nor further off, NaN where it still does at 10 m. Both
 * NaN where it can't be told. known: distances looked from already. */
TDM_MUST_CHECK tdm_code tdm_line_range(const tdm_scielab *scielab, const tdm_fall *fall,
                                       const tdm_visibility *known, size_t count, double *shows_from_m,
                                       double *hidden_from_m, tdm_error *error);

#endif
