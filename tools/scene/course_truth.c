/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the colour truly turns: the plain colour of the visible hair along the fall, light strands and others
   mixed in one proportion throughout, projected in CIELAB on the line between the two colours it leads from
   and to. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "drawing.h"

enum { MOST_BINS = 1024 };

static const double *sums_at(const scn_course_sums *sums, size_t bin, size_t column, size_t population)
{
    return sums->sums + ((bin * sums->columns + column) * 2 + population) * 4;
}

static scn_xyz mixed(scn_xyz dark, scn_xyz light, double share)
{
    scn_xyz out;
    for (int k = 0; k < 3; k++)
        out.v[k] = dark.v[k] + share * (light.v[k] - dark.v[k]);
    return out;
}

/* The mean colour of a population in a bin of columns first to last; false where it doesn't show. */
static bool mean_of(const scn_course_sums *sums, size_t bin, size_t first, size_t last, size_t population,
                    scn_xyz *mean)
{
    double total[4] = {0, 0, 0, 0};
    for (size_t c = first; c < last; c++)
        for (int k = 0; k < 4; k++)
            total[k] += sums_at(sums, bin, c, population)[k];
    for (int k = 0; k < 3; k++)
        mean->v[k] = total[3] > 0 ? total[k] / total[3] : 0;
    return total[3] > 0;
}

/* Least squares fit that never falls (pool adjacent violators). */
static void never_falling(double *v, size_t count)
{
    double level[MOST_BINS];
    size_t weight[MOST_BINS], blocks = 0;
    for (size_t i = 0; i < count; i++) {
        level[blocks] = v[i];
        weight[blocks++] = 1;
        while (blocks > 1 && level[blocks - 2] > level[blocks - 1]) {
            const double a = (double)weight[blocks - 2], b = (double)weight[blocks - 1];
            level[blocks - 2] = (a * level[blocks - 2] + b * level[blocks - 1]) / (a + b);
            weight[blocks - 2] += weight[blocks - 1];
            blocks--;
        }
    }
    for (size_t block = 0, i = 0; block < blocks; block++)
        for (size_t n = 0; n < weight[block]; n++)
            v[i++] = level[block];
}

static double crossing(const double *v, size_t count, double level, double bin_mm)
{
    for (size_t i = 1; i < count; i++) {
        if (v[i - 1] < level && v[i] >= level)
            return ((double)i - 0.5 + (level - v[i - 1]) / (v[i] - v[i - 1])) * bin_mm;
    }
    return NAN;
}

/* Share of the way from the one colour to the other, bin by bin; a bin without one population takes what it
 * had. */
static size_t progress_of(const scn_ends *ends, const scn_course_sums *sums, size_t first, size_t last,
                          double share, double *progress)
{
    const scn_lab from = scn_lab_of(mixed(ends->root[0], ends->root[1], share));
    const scn_lab to = scn_lab_of(mixed(ends->ends[0], ends->ends[1], share));
    double line[3], length = 0;
    for (int k = 0; k < 3; k++) {
        line[k] = to.v[k] - from.v[k];
        length += line[k] * line[k];
    }
    const size_t count = sums->bins < MOST_BINS ? sums->bins : MOST_BINS;
    scn_xyz dark = ends->root[0], light = ends->root[1];
    for (size_t bin = 0; bin < count; bin++) {
        scn_xyz seen;
        if (mean_of(sums, bin, first, last, 0, &seen))
            dark = seen;
        if (mean_of(sums, bin, first, last, 1, &seen))
            light = seen;
        const scn_lab lab = scn_lab_of(mixed(dark, light, share));
        progress[bin] = 0;
        for (int k = 0; k < 3; k++)
            progress[bin] += (lab.v[k] - from.v[k]) * line[k] / fmax(length, 1e-9);
    }
    return length > 1 ? count : 0;
}

scn_fall scn_fall_of(const scn_ends *ends, const scn_course_sums *sums, size_t first, size_t last,
                     double share)
{
    double progress[MOST_BINS];
    const size_t count = progress_of(ends, sums, first, last, share, progress);
    never_falling(progress, count);
    const double low = crossing(progress, count, 0.1, sums->bin_mm),
                 high = crossing(progress, count, 0.9, sums->bin_mm);
    return (scn_fall){crossing(progress, count, 0.5, sums->bin_mm), high - low};
}

static int ascending(const void *a, const void *b)
{
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static double median(const double *values, size_t count)
{
    double sorted[MOST_BINS];
    memcpy(sorted, values, count * sizeof *values);
    qsort(sorted, count, sizeof *sorted, ascending);
    return count % 2 ? sorted[count / 2] : 0.5 * (sorted[count / 2 - 1] + sorted[count / 2]);
}

static double stagger_of(const double *centres, const double *places, size_t count)
{
    double sx = 0, sy = 0, sxx = 0, sxy = 0, off[MOST_BINS];
    for (size_t i = 0; i < count; i++) {
        sx += places[i];
        sy += centres[i];
        sxx += places[i] * places[i];
        sxy += places[i] * centres[i];
    }
    const double n = (double)count, slope = (n * sxy - sx * sy) / (n * sxx - sx * sx);
    for (size_t i = 0; i < count; i++)
        off[i] = centres[i] - slope * places[i];
    const double middle = median(off, count);
    for (size_t i = 0; i < count; i++)
        off[i] = fabs(off[i] - middle);
    return 1.4826 * median(off, count);
}

static double column_share(const scn_course_sums *sums, size_t first, size_t last)
{
    double cover[2] = {0, 0};
    for (size_t bin = 0; bin < sums->bins; bin++)
        for (size_t c = first; c < last; c++)
            for (size_t p = 0; p < 2; p++)
                cover[p] += sums_at(sums, bin, c, p)[3];
    return cover[0] + cover[1] > 0 ? cover[1] / (cover[0] + cover[1]) : 0;
}

bool scn_columns_of(const scn_ends *ends, const scn_course_sums *sums, double column_mm, double *local_width,
                    double *stagger)
{
    double widths[MOST_BINS], centres[MOST_BINS], places[MOST_BINS];
    const size_t wide = (size_t)lround(column_mm / sums->bin_mm);
    size_t count = 0;
    for (size_t first = 0; first + wide <= sums->columns && count < MOST_BINS; first += wide) {
        const scn_fall fall =
            scn_fall_of(ends, sums, first, first + wide, column_share(sums, first, first + wide));
        if (!isfinite(fall.centre) || !isfinite(fall.width))
            continue;
        widths[count] = fall.width;
        centres[count] = fall.centre;
        places[count++] = (double)first * sums->bin_mm;
    }
    if (count < 3)
        return false;
    *local_width = median(widths, count);
    *stagger = stagger_of(centres, places, count);
    return true;
}
