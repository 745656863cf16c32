/* SPDX-License-Identifier: GPL-3.0-or-later */
/* CIE XYZ and CIELAB, D50, 2 degree observer, white of the ICC profile connection space. */
#ifndef TDM_COLOUR_LAB_H
#define TDM_COLOUR_LAB_H

#include <stddef.h>

/* ICC PCS white: X 0.9642, Y 1, Z 0.8249 (ICC.1). */
extern const double tdm_white_d50[3];

/* XYZ relative to Y = 1 for the perfect diffuser. ISO/CIE 11664-4. Negative XYZ go through the linear part.
 */
void tdm_xyz_to_lab(const double xyz[3], double lab[3]);
void tdm_lab_to_xyz(const double lab[3], double xyz[3]);
/* count triples. */
void tdm_xyz_to_lab_many(const float *xyz, float *lab, size_t count);

/* CIEDE2000 with kL = kC = kH = 1, ISO/CIE 11664-6. */
double tdm_de00(const double lab1[3], const double lab2[3]);
/* The same as three signed parts (lightness, chroma, hue) whose squares sum to its square: for fits. */
void tdm_de00_parts(const double lab1[3], const double lab2[3], double parts[3]);

/* Hue angle h_ab in degrees, 0 to 360, and chroma C*ab. */
double tdm_hue(const double lab[3]);
double tdm_chroma(const double lab[3]);

#endif
