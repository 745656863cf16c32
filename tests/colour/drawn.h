/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pictures of known colour for the tests: linear sRGB through a camera of known faults. */
#ifndef TESTS_COLOUR_DRAWN_H
#define TESTS_COLOUR_DRAWN_H

#include "photo/photo.h"

enum { PATCHES = 24 };

typedef struct camera {
    double gain[3];  /* exposure times white balance */
    double mix[9];   /* linear, after the gain */
    double veil;     /* stray light, linear, added to each channel */
    double contrast; /* strength of an S curve on encoded values, 0 none; 0.6 a strong one */
    double power;    /* further exponent on encoded values, 1 none */
    double noise;    /* standard deviation on encoded values */
    uint32_t seed;
} camera;

camera plain_camera(void);

/* Linear sRGB (D65) to encoded 0 to 1, clipped, as the camera would. */
void camera_sees(const camera *by, const double linear[3], double encoded[3], uint32_t *seed);

/* A grey surround with the target in it, its patches 0.85 of the pitch wide, a gap's margin round the block;
 * codes: 24 encoded triples. */
tdm_pixels draw_codes(int bits, double codes[PATCHES][3], uint32_t pitch, double corners[8]);
/* The reference patches (any CIELAB D50) as the camera sees them. */
tdm_pixels draw_target(int bits, double lab[PATCHES][3], const camera *by, uint32_t pitch, double corners[8]);
/* One even colour. */
tdm_pixels draw_even(int bits, const double encoded[3], uint32_t width, uint32_t height);

double encode_srgb(double linear);
double decode_srgb(double encoded);
/* By constants of IEC 61966-2-1 and Bradford, apart from the code under test. */
void linear_srgb_from_lab_d50(const double lab[3], double linear[3]);

void set_pixel(tdm_pixels *pixels, uint32_t x, uint32_t y, const double encoded[3]);

/* The larger of two; infinite where the new one isn't a number, so that no NaN passes for small. */
double worse(double so_far, double now);

/* A file of comma-separated numbers under tests/data/colour: skips lines that start with '#' or a letter,
 * and text cells (as 0). Returns rows read. */
size_t read_table(const char *name, double *cells, size_t columns, size_t most_rows);

#endif
