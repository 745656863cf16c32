/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How the target's plane stands to the picture's, from its corners: a pinhole of known focal length sees the
 * two directions of the plane as the first two columns of the homography (Zhang 2000), and their cross
 * product is the plane's normal. */
#include <math.h>
#include <string.h>

#include "colour/homography.h"
#include "colour/target.h"
#include "measure/quality_parts.h"

static const double patch_side = 0.85;
static const double film_diagonal = 43.267; /* mm: of 36 by 24 (CIPA DC-008, FocalLengthIn35mmFilm) */
static const double usual_focal = 35;       /* mm, where the file doesn't tell */
static const double corner_u = 0.5;         /* px: how well a corner is marked or found */
static const double degree = 3.14159265358979323846 / 180;

/* Unit normal towards the camera. False where the corners are none. */
static bool normal_of(const double seen[8], double focal, double n[3])
{
    tdm_homography map;
    if (!tdm_homography_make(TDM_TARGET_COLUMNS - 1 + patch_side, TDM_TARGET_ROWS - 1 + patch_side, seen,
                             &map))
        return false;
    const double a[3] = {map.m[0] / focal, map.m[3] / focal, map.m[6]};
    const double b[3] = {map.m[1] / focal, map.m[4] / focal, map.m[7]};
    n[0] = a[1] * b[2] - a[2] * b[1];
    n[1] = a[2] * b[0] - a[0] * b[2];
    n[2] = a[0] * b[1] - a[1] * b[0];
    const double length = copysign(hypot(hypot(n[0], n[1]), n[2]), n[2]);
    for (int i = 0; i < 3; i++)
        n[i] /= length;
    return true;
}

/* Each coordinate moved in turn, and what that moves the normal by (JCGM 100:2008, 5.1.3). */
static double doubt_of(const double seen[8], double focal, const double n[3])
{
    double sum = 0;
    for (int i = 0; i < 8; i++) {
        double moved[8], other[3];
        memcpy(moved, seen, sizeof moved);
        moved[i] += corner_u;
        if (!normal_of(moved, focal, other))
            return INFINITY;
        for (int k = 0; k < 3; k++)
            sum += (other[k] - n[k]) * (other[k] - n[k]);
    }
    return sqrt(sum) / degree;
}

double tdm_quality_tilt(const tdm_quality_input *input, double *doubt)
{
    const double width = input->photo->width, height = input->photo->height;
    const double film = input->photo->focal_35mm > 0 ? input->photo->focal_35mm : usual_focal;
    const double focal = film / film_diagonal * hypot(width, height);
    double seen[8], n[3];
    *doubt = 0;
    if (!input->corners)
        return NAN;
    for (int i = 0; i < 8; i++)
        seen[i] = input->corners[i] - (i % 2 == 0 ? width : height) / 2;
    if (!normal_of(seen, focal, n))
        return NAN;
    *doubt = doubt_of(seen, focal, n);
    return atan2(hypot(n[0], n[1]), n[2]) / degree;
}
