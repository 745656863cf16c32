/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Real cameras' published sensitivities looking at published spectra. */
#ifndef TESTS_COLOUR_SPECTRA_H
#define TESTS_COLOUR_SPECTRA_H

#include "colour/drawn.h"

enum { BANDS = 36, CAMERAS = 3, LIGHTS = 3, FIRST_NM = 380, STEP_NM = 10 };

typedef struct spectra {
    double patch[PATCHES][BANDS]; /* reflectance factor */
    double observer[3][BANDS];
    double sensitivity[CAMERAS][3][BANDS];
    double light[LIGHTS][BANDS]; /* D50, D65 and a black body of 2900 K */
} spectra;

extern const char *const light_names[LIGHTS];

void spectra_load(spectra *out);

/* A mass of hair: pigment of a concentration, share of it pheomelanin. */
void hair_spectrum(double concentration, double pheomelanin, double out[BANDS]);

/* CIELAB under D50. */
void spectrum_lab(const spectra *from, const double reflectance[BANDS], double lab[3]);

/* Linear, white balanced to 1 for the perfect diffuser. */
void spectrum_rgb(const spectra *from, int which, int light, const double reflectance[BANDS], double rgb[3]);

#endif
