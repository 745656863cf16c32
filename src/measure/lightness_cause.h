/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Is a change of lightness along the hair a change of its colour, or of the light on it? */
#ifndef TDM_MEASURE_LIGHTNESS_CAUSE_H
#define TDM_MEASURE_LIGHTNESS_CAUSE_H

#include <stdbool.h>

/* Gloss that may lie on hair without having been found, Y = 1 for the perfect diffuser: choice. */
#define TDM_GLOSS_LEFT 0.015

/* dark and light: CIELAB on the two sides. gloss: white light that may still lie on the lighter side, Y = 1
 * for the perfect diffuser. True where neither more light of the same kind nor gloss explains the change. */
bool tdm_is_colour_change(const double dark[3], const double light[3], double gloss);

#endif
