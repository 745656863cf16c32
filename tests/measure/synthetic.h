/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Straightened zones made of numbers: the truth is the function that draws them. */
#ifndef TESTS_MEASURE_SYNTHETIC_H
#define TESTS_MEASURE_SYNTHETIC_H

#include "measure/measure.h"

/* CIELAB at a place: s from the root, t from the zone's left edge, both mm. */
typedef void (*synthetic_colour)(double s, double t, const void *about, double lab[3]);

/* A scaled strip of the given size in mm with cells of 0.25 mm at 10 px/mm. Aborts the test when out of
 * memory. */
tdm_strip synthetic_strip(double length, double width, synthetic_colour colour, const void *about);

/* The same with cells of another size in mm. */
tdm_strip synthetic_strip_of(double length, double width, double cell, synthetic_colour colour,
                             const void *about);

/* The same number for the same place every time: normal with sd 1, from a hash of i and j. */
double synthetic_noise(unsigned i, unsigned j);

/* Everything a measure needs, made as the library makes it. */
typedef struct synthetic_zone {
    tdm_strip strip;
    tdm_columns columns;
    tdm_resampling resampling;
    tdm_fall fall;
    tdm_sources sources; /* none, until a test sets them */
    tdm_level_scale scale;
    tdm_measure_input input;
    tdm_warnings warnings;
    struct tdm_zone_reading reading;
} synthetic_zone;

void synthetic_zone_make(tdm_strip strip, synthetic_zone *out);
void synthetic_zone_free(synthetic_zone *zone);

#endif
