/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "colour/find_lattice.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { SPAN = TDM_LATTICE_SPAN, SEED = SPAN / 2 - 1, NEIGHBOURS = 12, PROJECTIVE_FROM = 9, WELL_KNOWN = 40 };

/* Choices. Pitch in sides of a patch: 1.1 to 1.25 as made, more where edges are lost to blur. */
static const double least_pitch = 0.95, most_pitch = 1.7;
static const double like_area = 2.6;      /* ratio of two patches' pixels at most */
static const double square_within = 0.45; /* cosine between the directions, in the patch's own frame */
static const double close_reach = 0.15;   /* the same once the plane is known; but not under a pixel */
static const double reach = 0.25;         /* of the pitch, from where a patch should be */

/* A neighbour as seen in the frame in which the seed is a square of side 1. */
typedef struct neighbour {
    int32_t area;
    double dx, dy, distance;
} neighbour;

static bool alike(const tdm_find_area *a, const tdm_find_area *b)
{
    return a->pixels < like_area * b->pixels && b->pixels < like_area * a->pixels;
}

/* Half a pixel is lost at every edge. */
static double dot_in_frame(const tdm_find_area *seed, double ax, double ay, double bx, double by)
{
    const double determinant = seed->xx * seed->yy - seed->xy * seed->xy;
    const double grown = 1 + 1 / sqrt(seed->pixels);
    return (ax * (seed->yy * bx - seed->xy * by) + ay * (seed->xx * by - seed->xy * bx)) /
           (12 * determinant * grown * grown);
}

/* The nearest ones, nearest first. */
static size_t neighbours_of(const tdm_find_near *near, const tdm_find_area *seed, neighbour out[NEIGHBOURS])
{
    int32_t found[256];
    const double half = (seed->xx + seed->yy) / 2;
    const double longest = sqrt(12 * 2 * half) + 1;
    const size_t count =
        tdm_find_near_all(near, seed->x, seed->y, most_pitch * longest, found, sizeof found / sizeof *found);
    size_t kept = 0;
    for (size_t i = 0; i < count; i++) {
        const tdm_find_area *area = &near->areas->at[found[i]];
        const double dx = area->x - seed->x, dy = area->y - seed->y;
        const double distance = sqrt(dot_in_frame(seed, dx, dy, dx, dy));
        if (!alike(area, seed) || distance < least_pitch || distance > most_pitch)
            continue;
        size_t at = kept < NEIGHBOURS ? kept++ : NEIGHBOURS;
        for (; at > 0 && out[at - 1].distance > distance; at--) {
            if (at < NEIGHBOURS)
                out[at] = out[at - 1];
        }
        if (at < NEIGHBOURS)
            out[at] = (neighbour){found[i], dx, dy, distance};
    }
    return kept;
}

static size_t gather(const tdm_find_near *near, const tdm_find_lattice *lattice, tdm_find_pair *pairs)
{
    size_t count = 0;
    for (int v = 0; v < SPAN; v++) {
        for (int u = 0; u < SPAN; u++) {
            if (lattice->area[v][u] < 0)
                continue;
            const tdm_find_area *area = &near->areas->at[lattice->area[v][u]];
            pairs[count++] = (tdm_find_pair){u, v, area->x, area->y, 1};
        }
    }
    return count;
}

static bool fit(const tdm_find_near *near, tdm_find_lattice *lattice)
{
    tdm_find_pair pairs[SPAN * SPAN];
    const size_t count = gather(near, lattice, pairs);
    return tdm_find_plane_fit(pairs, count, PROJECTIVE_FROM, &lattice->map);
}

/* An area beside this node, -1 where there is none. */
static int32_t beside(const tdm_find_lattice *lattice, int u, int v)
{
    if (u > 0 && lattice->area[v][u - 1] >= 0)
        return lattice->area[v][u - 1];
    if (u + 1 < SPAN && lattice->area[v][u + 1] >= 0)
        return lattice->area[v][u + 1];
    if (v > 0 && lattice->area[v - 1][u] >= 0)
        return lattice->area[v - 1][u];
    return v + 1 < SPAN ? lattice->area[v + 1][u] : -1;
}

static double pitch_at(const tdm_homography *map, double u, double v)
{
    double x, y, right_x, right_y, down_x, down_y;
    tdm_homography_at(map, u, v, &x, &y);
    tdm_homography_at(map, u + 1, v, &right_x, &right_y);
    tdm_homography_at(map, u, v + 1, &down_x, &down_y);
    return fmin(hypot(right_x - x, right_y - y), hypot(down_x - x, down_y - y));
}

static int32_t look(const tdm_find_near *near, const tdm_find_lattice *lattice, int u, int v, int32_t next_to)
{
    const tdm_find_area *areas = near->areas->at;
    double x, y;
    tdm_homography_at(&lattice->map, u, v, &x, &y);
    const double pitch = pitch_at(&lattice->map, u, v);
    const double within = lattice->seen < PROJECTIVE_FROM ? reach * pitch : fmax(close_reach * pitch, 1);
    if (!isfinite(x) || !isfinite(y) || !(within < 1e4))
        return -1;
    const int32_t found = tdm_find_nearest(near, x, y, within);
    return found >= 0 && alike(&areas[found], &areas[next_to]) ? found : -1;
}

/* One ring of nodes further. Returns how many were found. */
static int grow(const tdm_find_near *near, tdm_find_lattice *lattice)
{
    int32_t found[SPAN][SPAN];
    int count = 0;
    for (int v = 0; v < SPAN; v++) {
        for (int u = 0; u < SPAN; u++) {
            const int32_t next_to = lattice->area[v][u] < 0 ? beside(lattice, u, v) : -1;
            found[v][u] = next_to < 0 ? -1 : look(near, lattice, u, v, next_to);
        }
    }
    for (int v = 0; v < SPAN; v++) {
        for (int u = 0; u < SPAN; u++) {
            if (found[v][u] >= 0) {
                lattice->area[v][u] = found[v][u];
                count++;
            }
        }
    }
    lattice->seen += count;
    return count;
}

/* Drops what the fit says isn't where it should be, and fits again. */
static bool settle(const tdm_find_near *near, tdm_find_lattice *lattice)
{
    for (int v = 0; v < SPAN; v++) {
        for (int u = 0; u < SPAN; u++) {
            if (lattice->area[v][u] < 0)
                continue;
            const tdm_find_area *area = &near->areas->at[lattice->area[v][u]];
            double x, y;
            tdm_homography_at(&lattice->map, u, v, &x, &y);
            if (hypot(x - area->x, y - area->y) <= fmax(close_reach * pitch_at(&lattice->map, u, v), 1))
                continue;
            lattice->area[v][u] = -1;
            lattice->seen--;
        }
    }
    return lattice->seen >= TDM_LATTICE_FEWEST && fit(near, lattice);
}

/* From a cell of four areas outwards. */
static bool grow_from(const tdm_find_near *near, int32_t seed, int32_t right, int32_t below, int32_t opposite,
                      tdm_find_lattice *lattice)
{
    memset(lattice->area, 0xff, sizeof lattice->area);
    lattice->area[SEED][SEED] = seed;
    lattice->area[SEED][SEED + 1] = right;
    lattice->area[SEED + 1][SEED] = below;
    lattice->area[SEED + 1][SEED + 1] = opposite;
    lattice->seen = 4;
    if (!fit(near, lattice))
        return false;
    for (int fitted = 4; grow(near, lattice) > 0;) {
        if (lattice->seen > WELL_KNOWN && lattice->seen < 1.5 * fitted)
            continue; /* the plane won't change for a ring more */
        fitted = lattice->seen;
        if (!fit(near, lattice))
            return false;
    }
    return settle(near, lattice);
}

static bool try_cell(const tdm_find_near *near, int32_t seed, const neighbour *a, const neighbour *b,
                     int *left, tdm_find_lattice *lattice)
{
    const tdm_find_area *area = &near->areas->at[seed];
    const double cosine = dot_in_frame(area, a->dx, a->dy, b->dx, b->dy) / (a->distance * b->distance);
    if (a->dx * b->dy - a->dy * b->dx <= 0 || fabs(cosine) > square_within)
        return false;
    const int32_t opposite = tdm_find_nearest(near, area->x + a->dx + b->dx, area->y + a->dy + b->dy,
                                              reach * fmin(hypot(a->dx, a->dy), hypot(b->dx, b->dy)));
    if (opposite < 0 || !alike(&near->areas->at[opposite], area))
        return false;
    --*left;
    return grow_from(near, seed, a->area, b->area, opposite, lattice);
}

bool tdm_find_lattice_from(const tdm_find_near *near, int32_t seed, int *left, tdm_find_lattice *lattice)
{
    neighbour around[NEIGHBOURS];
    const size_t count = neighbours_of(near, &near->areas->at[seed], around);
    for (size_t i = 0; i < count; i++) {
        for (size_t k = 0; k < count; k++) {
            if (i != k && *left > 0 && try_cell(near, seed, &around[i], &around[k], left, lattice))
                return true;
        }
    }
    return false;
}
