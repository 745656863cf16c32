/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A quick look that turns away nearly all windows of a wall of tiles before anything is fitted to them. */
#ifndef TDM_COLOUR_FIND_NEUTRAL_H
#define TDM_COLOUR_FIND_NEUTRAL_H

#include <stdbool.h>

enum { TDM_NEUTRALS_IN_ROW = 6 };

/* Whether six patches in a row may be the neutral ones, white first: about one colour, and falling in light,
 * but for two that are dirty, or in shade. colours: encoded, 0 to 255; NULL where a patch wasn't seen. Where
 * four or more weren't, nothing is said against it. */
bool tdm_find_neutral_row(const double *const colours[TDM_NEUTRALS_IN_ROW]);

#endif
