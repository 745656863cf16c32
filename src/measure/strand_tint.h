/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What tells two kinds of hair from one kind in light and shade. */
#ifndef TDM_MEASURE_STRAND_TINT_H
#define TDM_MEASURE_STRAND_TINT_H

#include <stdbool.h>

/* Shade dims all wavelengths alike: in CIELAB it takes a* and b* down in proportion to L* + 16 (ISO/CIE
 * 11664-4). More or less melanin changes long against short wavelengths, which leaves a difference that shade
 * doesn't. True where shade alone can have made dark of light. */
bool tdm_is_shade(const double light[3], const double dark[3]);

/* Bimodality coefficient, (skewness^2 + 1) / kurtosis, of central moments (from memory: SAS/STAT User's
 * Guide, 1990): 1/3 for a normal distribution, 5/9 for an even one, 1 for two points. */
double tdm_bimodality(double second, double third, double fourth);

#endif
