/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How the target's plane stands to the picture's, from its corners: a pinhole of known focal length sees the
 * two directions of the plane as the first two columns of the homography (Zhang 2000), and their cross
 * product is the plane's normal. */
#include <math.h>

#include "colour/homography.h"
#include "colour/target.h"
#include "measure/quality_parts.h"

static const double patch_side = 0.85;
static const double film_diagonal = 43.267; /* mm: of 36 by 24 (CIPA DC-008, FocalLengthIn35mmFilm) */
static const double usual_focal = 35;       /* mm, where the file doesn't tell */

double tdm_quality_tilt(const tdm_quality_input *input)
{
    const double width = input->photo->width, height = input->photo->height;
    const double film = input->photo->focal_35mm > 0 ? input->photo->focal_35mm : usual_focal;
    const double focal = film / film_diagonal * hypot(width, height);
    double seen[8];
    tdm_homography map;
    for (int i = 0; input->corners && i < 8; i++)
        seen[i] = input->corners[i] - (i % 2 == 0 ? width : height) / 2;
    if (!input->corners || !tdm_homography_make(TDM_TARGET_COLUMNS - 1 + patch_side,
                                                TDM_TARGET_ROWS - 1 + patch_side, seen, &map))
        return NAN;
    const double a[3] = {map.m[0] / focal, map.m[3] / focal, map.m[6]};
    const double b[3] = {map.m[1] / focal, map.m[4] / focal, map.m[7]};
    const double n[3] = {a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]};
    return atan2(hypot(n[0], n[1]), fabs(n[2])) * 180 / 3.14159265358979323846;
}
