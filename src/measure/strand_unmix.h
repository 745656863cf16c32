/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pure colours from places that hold both: light mixes in proportion. */
#ifndef TDM_MEASURE_STRAND_UNMIX_H
#define TDM_MEASURE_STRAND_UNMIX_H

#include <stdbool.h>

typedef struct tdm_unmix {
    double light, both, dark; /* sums of f^2, f (1 - f), (1 - f)^2 */
    double of_light[3], of_dark[3];
} tdm_unmix;

/* `count` places in which light hair has the share `light` each, and the sum of their linear light. */
void tdm_unmix_add(tdm_unmix *sums, double light, double count, const double xyz[3]);

/* CIELAB of either kind by least squares; false where the places don't tell them apart. */
bool tdm_unmix_solve(const tdm_unmix *sums, double light[3], double dark[3]);

#endif
