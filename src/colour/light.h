/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How the light falls over the picture: a smooth surface a channel, in stops. */
#ifndef TDM_COLOUR_LIGHT_H
#define TDM_COLOUR_LIGHT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum { TDM_LIGHT_TERMS = 15 }; /* of a polynomial in x and y of degree 4, or fewer */

/* A value. Binary logarithm of the light at a place against that at the place where the calibration was
 * fitted, a channel of linear working RGB. Coordinates: upright pixels, less the picture's middle, over half
 * its longer side. */
typedef struct tdm_light {
    int degree;                       /* 0: even light, nothing else is looked at; 1 to 4 */
    uint32_t width, height;           /* of the picture it was made for */
    double stops[3][TDM_LIGHT_TERMS]; /* 1, x, y, x², xy, y², x³ … */
    /* Root mean square in stops between the surface and what it was fitted to; more where that is too little
     * to show it. */
    double misfit;
} tdm_light;

/* The factors that take count pixels of one row, the first with its centre at x, y, to even light: three
 * floats a pixel.
 */
void tdm_light_row(const tdm_light *light, double x, double y, size_t count, float *factors);
void tdm_light_at(const tdm_light *light, double x, double y, double factors[3]);

/* The most that the light is off even anywhere in the picture, in stops, on a lattice of 33 by 33 places from
 * edge to edge. */
double tdm_light_most(const tdm_light *light);
/* No light that a fit or a file gives is farther off than so many stops: a factor of 256. */
enum { TDM_LIGHT_MOST = 8 };

/* For fits. Terms of a degree: 1, 3, 6, 10, 15. */
int tdm_light_terms(int degree);
/* The terms at a place, by the light's degree, width and height. */
void tdm_light_basis(const tdm_light *light, double x, double y, double terms[TDM_LIGHT_TERMS]);
/* Makes the light at a place count as 1. */
void tdm_light_centre(tdm_light *light, double x, double y);

#endif
