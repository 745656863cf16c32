/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "marks/size_scale.h"

#include <math.h>

#include "colour/homography.h"

/* The block of patches in pitches: a patch is 0.85 wide, the rest is gap (common practice, no source). */
static const double block_width = 6 - 1 + 0.85, block_height = 4 - 1 + 0.85;
static const double marked_end_px = 1; /* standard uncertainty of a marked end of a side: a choice */

static double side_of(const double *corners, size_t from, size_t count)
{
    const size_t to = (from + 1) % count;
    return hypot(corners[2 * to] - corners[2 * from], corners[2 * to + 1] - corners[2 * from + 1]);
}

/* Square root of the area that a unit square at the middle has in the picture: the geometric mean of the
 * scales along and across the tilt. */
static double scale_in_middle(const tdm_homography *map, double width, double height)
{
    const double u = width / 2, v = height / 2, *m = map->m;
    const double w = m[6] * u + m[7] * v + m[8];
    const double x = (m[0] * u + m[1] * v + m[2]) / w, y = (m[3] * u + m[4] * v + m[5]) / w;
    const double xu = (m[0] - m[6] * x) / w, xv = (m[1] - m[7] * x) / w;
    const double yu = (m[3] - m[6] * y) / w, yv = (m[4] - m[7] * y) / w;
    return sqrt(fabs(xu * yv - xv * yu));
}

/* Relative standard uncertainty from values that should be one, and from the marking of a length in pixels.
 */
static double spread_of(const double *values, size_t count, double length_px)
{
    double mean = 0, square = 0;
    for (size_t i = 0; i < count; i++)
        mean += values[i] / (double)count;
    for (size_t i = 0; i < count; i++)
        square += (values[i] - mean) * (values[i] - mean);
    const double sides = count > 1 ? sqrt(square / (double)(count - 1)) / mean : 0;
    return hypot(sides, sqrt(2) * marked_end_px / length_px);
}

static bool from_target(const double corners[8], double width_mm, double *mm_per_px, double *spread)
{
    const double height_mm = width_mm * block_height / block_width;
    double sides[4];
    tdm_homography map;
    if (!(width_mm > 0) || !tdm_homography_make(width_mm, height_mm, corners, &map))
        return false;
    for (size_t i = 0; i < 4; i++)
        sides[i] = side_of(corners, i, 4) / (i % 2 ? height_mm : width_mm);
    *mm_per_px = 1 / scale_in_middle(&map, width_mm, height_mm);
    *spread = spread_of(sides, 4, fmin(side_of(corners, 0, 4), side_of(corners, 2, 4)));
    return isfinite(*mm_per_px);
}

/* A card's longest side. other: the one across from it where the card has four, else the same. */
static double longest_side(const tdm_polyline *polygon, double *other)
{
    size_t longest = 0;
    for (size_t i = 1; i < polygon->count; i++) {
        if (side_of(polygon->xy, i, polygon->count) > side_of(polygon->xy, longest, polygon->count))
            longest = i;
    }
    const double length = side_of(polygon->xy, longest, polygon->count);
    *other = polygon->count == 4 ? side_of(polygon->xy, (longest + 2) % 4, 4) : length;
    return length;
}

/* The mean over all cards of known width, each by the mean of its two long sides. */
static bool from_cards(const tdm_marks *marks, double *mm_per_px, double *spread)
{
    double sum = 0, square = 0, own = 0;
    size_t count = 0;
    for (size_t i = 0; i < marks->grey_count; i++) {
        const tdm_grey_marks *grey = &marks->greys[i];
        double other;
        const double length = longest_side(&grey->polygon, &other), mean = (length + other) / 2;
        const double sides[2] = {length, other};
        if (!(grey->width_mm > 0) || !(mean > 0))
            continue;
        sum += grey->width_mm / mean;
        square += grey->width_mm / mean * grey->width_mm / mean;
        own += spread_of(sides, 2, mean);
        count++;
    }
    if (count == 0)
        return false;
    const double n = (double)count, mean = sum / n;
    const double among = count > 1 ? sqrt(fmax(square - n * mean * mean, 0) / (n - 1)) / mean : 0;
    *mm_per_px = mean;
    *spread = hypot(own / n, among);
    return true;
}

void tdm_scale_from_sizes(const tdm_marks *marks, const double corners[8], double target_width_mm,
                          double *mm_per_px, double *spread, const char **source)
{
    const double *used = corners ? corners : (marks->has_target ? marks->corners : NULL);
    const double width = isnan(target_width_mm) ? marks->target_width_mm : target_width_mm;
    *mm_per_px = *spread = NAN;
    *source = NULL;
    if (used && from_target(used, width, mm_per_px, spread))
        *source = "target";
    else if (from_cards(marks, mm_per_px, spread))
        *source = "grey";
    else
        *mm_per_px = *spread = NAN;
}
