/* SPDX-License-Identifier: GPL-3.0-or-later */
/* White light off the hair's surface, estimated from what scatters off the colours of its body. */
#ifndef TDM_MEASURE_GLOSS_H
#define TDM_MEASURE_GLOSS_H

#include "measure/fall.h"

/* Linear light that gloss adds to the mean of each of the fall's bins, Y = 1 for the perfect diffuser; bins
 * numbers. A rough estimate: good for an uncertainty, not for taking gloss out. */
TDM_MUST_CHECK tdm_code tdm_gloss_estimate(const tdm_strip *strip, const tdm_fall *fall, double *out,
                                           tdm_error *error);

#endif
