/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The plane of the target as the camera sees it. */
#ifndef TDM_COLOUR_HOMOGRAPHY_H
#define TDM_COLOUR_HOMOGRAPHY_H

#include <stdbool.h>

typedef struct tdm_homography {
    double m[9];
} tdm_homography;

/* The projective map of the rectangle (0,0) (width,0) (width,height) (0,height) onto four corners in that
 * order, x y each. False where they aren't the corners of a convex quadrilateral, walked either way round. */
bool tdm_homography_make(double width, double height, const double corners[8], tdm_homography *out);

void tdm_homography_at(const tdm_homography *map, double u, double v, double *x, double *y);

/* Whether four corners, named clockwise on the thing itself, go the other way round in the picture. */
bool tdm_corners_mirrored(const double corners[8]);

#endif
