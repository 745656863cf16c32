/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A third kind of strands between light and dark, as where old lights, new lights and base stand apart. */
#ifndef TDM_MEASURE_STRAND_THIRD_H
#define TDM_MEASURE_STRAND_THIRD_H

#include "measure/strand_parts.h"

/* Asks pure dark hair, then pure light hair, whether it is of two kinds by itself, along its own axis: the
 * one that tells light from dark best is blind to a smaller difference. grid: marked by the parts. Of three
 * kinds all but the darkest are light hair: the parts and the grid's light then say so. */
TDM_MUST_CHECK tdm_code tdm_strand_third(const tdm_measure_input *input, const tdm_strand_grid *grid,
                                         tdm_strand_parts *parts, tdm_error *error);

#endif
