/* SPDX-License-Identifier: GPL-3.0-or-later */
/* White light off the hair's surface, estimated from what scatters off the colours of its body. */
#ifndef TDM_MEASURE_GLOSS_H
#define TDM_MEASURE_GLOSS_H

#include "strip/strip.h"
#include "tidemark/error.h"

/* Linear light that gloss adds to the mean around each place along the fall (in the strip's units), Y = 1 for
 * the perfect diffuser. Rough: within a half or so, and where colours change along the hair too much. */
TDM_MUST_CHECK tdm_code tdm_gloss_scatter(const tdm_strip *strip, const double *along, size_t places,
                                          double *out, tdm_error *error);

#endif
