/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where a ribbon becomes light on its way from the root, and over what length. */
#ifndef TDM_MEASURE_RIBBON_START_H
#define TDM_MEASURE_RIBBON_START_H

#include "measure/measure.h"
#include "measure/strand_field.h"

/* Fills the start and onset of every ribbon of the map. Each is followed up through the whole strip along the
 * field (NULL: straight); the mean colour of its middle in steps of 1 mm is projected on the line from its
 * own colour at the root to its own below, and fitted by one normal distribution function. light, dark:
 * CIELAB of the two kinds of hair: one that rises by less than half of their difference is light from the
 * path's start. */
TDM_MUST_CHECK tdm_code tdm_ribbon_starts(const tdm_measure_input *input, const tdm_strand_field *field,
                                          const double light[3], const double dark[3], tdm_strand_map *map,
                                          tdm_error *error);

#endif
