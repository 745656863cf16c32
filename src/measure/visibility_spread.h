/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TDM_MEASURE_VISIBILITY_SPREAD_H
#define TDM_MEASURE_VISIBILITY_SPREAD_H

#include "measure/columns.h"
#include "measure/visibility_look.h"

/* Expanded uncertainty of a look's d' from sampling: its step and texture taken again from drawn blocks of
 * columns, `block` mm wide. NaN where there is no look, or too few draws. */
TDM_MUST_CHECK tdm_code tdm_look_spread(const tdm_seen *seen, const tdm_look *look,
                                        const tdm_resampling *resampling, double block, double *u,
                                        tdm_error *error);

#endif
