/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The 24-patch target as a camera of known blur, motion, noise and place sees it. The truth is the formula:
 * nothing here is the library's. */
#ifndef TESTS_MEASURE_DRAWN_TARGET_H
#define TESTS_MEASURE_DRAWN_TARGET_H

#include "measure/quality.h"

typedef struct drawing {
    uint32_t width, height;
    double corners[8];     /* of the block of patches: the plane is seen through the homography */
    double blur[3];        /* covariance xx, xy, yy of a Gaussian blur, px² */
    double smear, degrees; /* length of an even smear, and its direction, counter-clockwise from level */
    double noise;          /* standard deviation in 8-bit levels, encoded */
    double round;          /* part of a patch's corner that is cut off as a square, of the pitch */
} drawing;

/* A photograph in sRGB and what the quality's figures are taken from. input points into it and names no
 * corners: don't move it. */
typedef struct drawn_photo {
    tdm_pixels pixels;
    tdm_photo_info info;
    tdm_marks marks;
    tdm_device *device;
    tdm_calibration calibration;
    tdm_quality_input input;
} drawn_photo;

void draw(const drawing *how, drawn_photo *out);
void drawn_free(drawn_photo *photo);

/* Corners of a block of the given pitch round a middle, turned by degrees. */
void place_block(double x, double y, double pitch, double degrees, double corners[8]);

#endif
