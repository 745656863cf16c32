/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Scenes drawn by the renderer and read again with libpng and plain formulas. */
#ifndef TESTS_SCENE_DRAWN_H
#define TESTS_SCENE_DRAWN_H

#include <jansson.h>
#include <stddef.h>
#include <stdint.h>

#define DRAWN_CLEAN "camera.format=png", "camera.noise=0", "camera.blur_px=0"

/* Draws SCENE_FOLDER/name from an empty scene and a NULL-terminated list of settings; the exit status. */
int drawn_make(const char *name, const char *const *sets);
/* SCENE_FOLDER/name.ending, to be freed. */
json_t *drawn_json(const char *name, const char *ending);

typedef struct {
    uint16_t *rgb; /* sRGB, encoded; linear in 16 bit steps */
    size_t width, height;
} drawn_picture;
void drawn_open(const char *name, drawn_picture *out);
void drawn_close(drawn_picture *picture);
/* Both: draws, which must go well, and opens. */
void drawn_made(const char *name, const char *const *sets, drawn_picture *out);
/* XYZ D50 and CIELAB D50 of the mean light of a box, sRGB decoded. */
void drawn_xyz(const drawn_picture *picture, size_t x0, size_t y0, size_t width, size_t height,
               double xyz[3]);
void drawn_lab(const drawn_picture *picture, size_t x0, size_t y0, size_t width, size_t height,
               double lab[3]);
void drawn_lab_of(const double xyz[3], double lab[3]);
void drawn_xyz_of(const double lab[3], double xyz[3]);
/* Whether a part of the truth or marks is there: a path of keys with dots. */
json_t *drawn_key(json_t *root, const char *path);
/* The number at a path of keys in one of the truth's zones; it must be there. */
double drawn_zone_number(const json_t *truth, size_t zone, const char *path);
/* The euclidean difference of two CIELAB triples. */
double drawn_difference(const double a[3], const double b[3]);
/* Three numbers of a JSON list. */
void drawn_triple(const json_t *list, double out[3]);

#endif
