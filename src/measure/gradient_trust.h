/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How far the figures of the fall can be relied on, and what was left out of them. */
#ifndef TDM_MEASURE_GRADIENT_TRUST_H
#define TDM_MEASURE_GRADIENT_TRUST_H

#include "measure/measure.h"

/* After the fall's figures are put: turns a width that runs off the zone into a bound, says what light did,
 * grades the confidence, and warns. */
TDM_MUST_CHECK tdm_code tdm_gradient_trust(const tdm_measure_input *input, struct tdm_zone_reading *out,
                                           tdm_warnings *warnings, tdm_error *error);

#endif
