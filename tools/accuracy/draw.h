/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Random scenes: draws of numbers, written as a scene's settings. */
#ifndef TOOLS_DRAW_H
#define TOOLS_DRAW_H

#include <jansson.h>
#include <stdbool.h>
#include <stdint.h>

/* PCG32 (M. E. O'Neill 2014). */
typedef struct draw {
    uint64_t state;
} draw;

draw draw_start(unsigned number);
uint32_t draw_bits(draw *from);
double draw_even(draw *from, double low, double high);
double draw_even_log(draw *from, double low, double high);
bool draw_chance(draw *from, double share);

/* Appends "key=value". */
void set_number(json_t *sets, const char *key, double value);
void set_word(json_t *sets, const char *key, const char *value);

/* Lamps by day and night, one or two, and how evenly they fall; a camera with its faults. */
void draw_light(draw *from, json_t *sets, double most_uneven);
void draw_camera(draw *from, json_t *sets);

#endif
