/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Flat things held in the picture. */
#ifndef SHEET_H
#define SHEET_H

#include "drawing.h"

/* Its own mm from its centre: turned, then tilted about an axis of the picture, seen from 600 mm. */
typedef struct {
    double x, y, cosine, sine;
    double axis_cosine, axis_sine, tilt_cosine, tilt_sine;
    bool tilted;
} scn_sheet;

scn_sheet scn_sheet_at(double x, double y, double degrees);
scn_sheet scn_sheet_tilted(scn_sheet sheet, double tilt_deg, double axis_deg);
/* From the sheet's mm to the picture's px, and from the picture's mm, relative to the sheet's centre, back.
 */
scn_point scn_sheet_px(const scn_sheet *sheet, const scn_scene *scene, double x, double y);
scn_point scn_sheet_mm(const scn_sheet *sheet, double mx, double my);
/* Corners of the rectangle of half sizes (a, b), from the top left one clockwise, px. */
void scn_sheet_corners(const scn_sheet *sheet, const scn_scene *scene, double a, double b,
                       scn_point corners[4]);

/* The colour at (x, y), mm from the centre; `pixel` is the size of a pixel there. */
typedef scn_xyz (*scn_surface)(double x, double y, double pixel, const void *data);
/* Draws the rectangle of half sizes (a, b) with round corners of radius r, all mm, and the shadow it throws.
 */
void scn_sheet_draw(scn_image *image, const scn_scene *scene, const scn_sheet *sheet, double a, double b,
                    double r, scn_surface surface, const void *data);
/* Coverage of a pixel by that rectangle. */
double scn_inside(double x, double y, double a, double b, double r, double pixel);

#endif
