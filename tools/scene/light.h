/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lamps and cameras as spectra, reduced to matrices of XYZ D50. */
#ifndef LIGHT_H
#define LIGHT_H

#include "scene.h"

/* One lamp and the camera: what it records, balanced to a flat grey of 1 under the main lamp. */
typedef struct {
    double of_xyz[3][3];   /* from XYZ D50 of a surface with a reflectance of the smooth kind */
    double patches[24][3]; /* what the target's patches have more than such a surface of their colour */
} scn_lit;

typedef struct {
    scn_lit lamps[2];    /* main, second */
    double to_xyz[3][3]; /* the camera maker's matrix: recorded values to XYZ D50 */
} scn_light;

void scn_light_make(scn_light *light, const scn_scene *scene);
/* Share of the second lamp at a place of the picture, px. */
double scn_light_share(const scn_scene *scene, double x, double y);
/* XYZ of the smooth surface that the camera can't tell from a patch of colour `xyz`. */
scn_xyz scn_light_patch(const scn_light *light, size_t patch, scn_xyz xyz, double share);

/* matrix.c: false where there is no inverse. */
bool scn_invert(double m[3][3], double inverse[3][3]);
void scn_multiply(double a[3][3], double b[3][3], double out[3][3]);

#endif
