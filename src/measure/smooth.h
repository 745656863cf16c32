/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TDM_MEASURE_SMOOTH_H
#define TDM_MEASURE_SMOOTH_H

#include "measure/fall.h"

/* Local linear regression (Cleveland 1979, tricube weights, 3 mm to each side) of lab (bins * 3) at a place
 * along the fall. False where no bin near it is used. */
bool tdm_smooth_lab(const tdm_fall *fall, const double *lab, double along, double out[3]);

#endif
