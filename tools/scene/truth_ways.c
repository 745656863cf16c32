/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The truth of which way the strands run: the directions they were drawn in, as far as they show. */
#include <math.h>
#include <stdlib.h>

#include "truth.h"

enum { FINE = 5 }; /* cells a coarse one, either way */
static const double coarse_mm = 10;

static size_t coarse_count(double length)
{
    return (size_t)fmax(1, round(length / coarse_mm));
}

bool scn_ways_make(scn_way_sums *ways, const scn_zone *zone)
{
    *ways = (scn_way_sums){.rows = FINE * coarse_count(zone->length),
                           .columns = FINE * coarse_count(zone->width)};
    ways->along_mm = zone->length / (double)ways->rows;
    ways->across_mm = zone->width / (double)ways->columns;
    ways->sums = calloc(ways->rows * ways->columns * 2, sizeof(double));
    ways->slope = calloc(ways->rows * ways->columns, sizeof(double));
    return ways->sums && ways->slope;
}

void scn_ways_free(scn_way_sums *ways)
{
    free(ways->sums);
    free(ways->slope);
    *ways = (scn_way_sums){0};
}

static size_t cell_of(double place, double size, size_t count)
{
    return (size_t)fmin(fmax(floor(place / size), 0), (double)count - 1);
}

void scn_add_way(scn_way_sums *ways, const scn_path *path, scn_way way, double s, double across)
{
    const scn_point along = scn_path_way(path, s);
    const double x = (double)way.x, y = (double)way.y;
    const size_t row = cell_of(s, ways->along_mm, ways->rows),
                 column = cell_of(across + path->half_mm, ways->across_mm, ways->columns);
    double *to = ways->sums + 2 * (row * ways->columns + column);
    to[0] += x * along.x + y * along.y;
    to[1] += y * along.x - x * along.y;
}

/* Of the cells [row, row + rows) x [column, column + columns): NaN where nothing lies. */
static double mean_slope(const scn_way_sums *ways, size_t row, size_t rows, size_t column, size_t columns)
{
    double along = 0, across = 0;
    for (size_t i = row; i < row + rows && i < ways->rows; i++) {
        for (size_t j = column; j < column + columns && j < ways->columns; j++) {
            along += ways->sums[2 * (i * ways->columns + j)];
            across += ways->sums[2 * (i * ways->columns + j) + 1];
        }
    }
    return along > 1e-3 ? across / along : NAN;
}

void scn_ways_even(scn_way_sums *ways)
{
    for (size_t i = 0; i < ways->rows; i++) {
        for (size_t j = 0; j < ways->columns; j++) {
            const size_t from = j > 0 ? j - 1 : 0;
            const double mean = mean_slope(ways, i, 1, from, j + 2 - from);
            ways->slope[i * ways->columns + j] = isfinite(mean) ? mean : 0;
        }
    }
}

double scn_slope_at(const scn_way_sums *ways, double s, double across)
{
    const double half = 0.5 * (double)ways->columns * ways->across_mm;
    const double y = fmin(fmax(s / ways->along_mm - 0.5, 0), (double)ways->rows - 1.001),
                 x = fmin(fmax((across + half) / ways->across_mm - 0.5, 0), (double)ways->columns - 1.001);
    const double a = x - floor(x), b = y - floor(y);
    const double *p = ways->slope + (size_t)y * ways->columns + (size_t)x, *q = p + ways->columns;
    return (1 - b) * ((1 - a) * p[0] + a * p[1]) + b * ((1 - a) * q[0] + a * q[1]);
}

static json_t *row_json(const scn_way_sums *ways, size_t row)
{
    json_t *list = json_array();
    for (size_t j = 0; j < ways->columns; j += FINE)
        (void)json_array_append_new(list, scn_number_json(mean_slope(ways, row, FINE, j, FINE)));
    return list;
}

json_t *scn_ways_json(const scn_way_sums *ways)
{
    const double half = 0.5 * (double)ways->columns * ways->across_mm;
    json_t *along = json_array(), *across = json_array(), *slope = json_array();
    for (size_t i = 0; i < ways->rows; i += FINE) {
        (void)json_array_append_new(along, json_real(((double)i + 0.5 * FINE) * ways->along_mm));
        (void)json_array_append_new(slope, row_json(ways, i));
    }
    for (size_t j = 0; j < ways->columns; j += FINE)
        (void)json_array_append_new(across, json_real(((double)j + 0.5 * FINE) * ways->across_mm - half));
    return json_pack("{s:o, s:o, s:o}", "along_mm", along, "across_mm", across, "slope", slope);
}
