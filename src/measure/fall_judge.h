/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TDM_MEASURE_FALL_JUDGE_H
#define TDM_MEASURE_FALL_JUDGE_H

#include "measure/fall.h"

/* Where the fall's change is one of lightness that light alone can have made, moves its fit to by_light and
 * leaves a uniform one. */
TDM_MUST_CHECK tdm_code tdm_fall_judge(tdm_fall *fall, tdm_error *error);

#endif
