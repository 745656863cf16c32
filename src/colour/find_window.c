/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "colour/find_window.h"

#include <math.h>
#include <stdlib.h>

#include "colour/matrix.h"

enum { SPAN = TDM_LATTICE_SPAN, COLUMNS = 6, ROWS = 4, PATCHES = TDM_REFERENCE_PATCHES, PROBES = 3 };

static const double probe_reach =
    0.22; /* of the pitch, from a patch's middle: inside even where all is a little off */
static const double stray = 0.12; /* of the pitch, of an area from where the window's fit has it */
static const double alike = 6;    /* codes */
/* Choices: METHODS.md. */
static const double no_agreement = 0.55, full_agreement = 0.9, clear_lead = 0.25;
static const int most_odd = 5;

static double median(double values[PROBES * PROBES])
{
    for (int i = 1; i < PROBES * PROBES; i++) {
        const double value = values[i];
        int at = i;
        for (; at > 0 && values[at - 1] > value; at--)
            values[at] = values[at - 1];
        values[at] = value;
    }
    return values[PROBES * PROBES / 2];
}

/* Median of each channel over the middle of a patch. */
static void probe(const tdm_find_picture *picture, const tdm_homography *map, int u, int v, double colour[3])
{
    double values[3][PROBES * PROBES], at[3], x, y;
    for (int i = 0; i < PROBES * PROBES; i++) {
        tdm_homography_at(map, u + probe_reach * (i % PROBES - 1), v + probe_reach * (i / PROBES - 1.0), &x,
                          &y);
        tdm_find_picture_at(picture, x, y, at);
        for (int k = 0; k < 3; k++)
            values[k][i] = at[k];
    }
    for (int k = 0; k < 3; k++)
        colour[k] = median(values[k]);
}

/* Target's columns and rows to nodes: u = m[0] i + m[1] j + m[2], v = m[3] i + m[4] j + m[5]. */
typedef struct laying {
    int m[6];
    bool mirrored;
} laying;

/* A quarter turned, columns and rows change places, which is as a mirror does. */
static laying lay(bool turned, int u, int v)
{
    if (turned)
        return (laying){{0, 1, u, 1, 0, v}, true};
    return (laying){{1, 0, u, 0, 1, v}, false};
}

/* Where the target's patch is on the lattice; -1 where none was seen. */
static int32_t area_at(const tdm_find_lattice *lattice, const laying *l, int i, int j)
{
    return lattice->area[l->m[3] * i + l->m[4] * j + l->m[5]][l->m[0] * i + l->m[1] * j + l->m[2]];
}

static size_t gather(const tdm_find_areas *areas, const tdm_find_lattice *lattice, const laying *l,
                     tdm_find_pair pairs[PATCHES])
{
    size_t count = 0;
    for (int i = 0; i < PATCHES; i++) {
        const int32_t at = area_at(lattice, l, i % COLUMNS, i / COLUMNS);
        if (at >= 0)
            pairs[count++] = (tdm_find_pair){i % COLUMNS, i / COLUMNS, areas->at[at].x, areas->at[at].y, 1};
    }
    return count;
}

/* Keeps those within `stray` of the pitch. */
static size_t drop_strays(const tdm_homography *map, tdm_find_pair pairs[PATCHES], size_t count)
{
    size_t kept = 0;
    for (size_t i = 0; i < count; i++) {
        double x, y, next_x, next_y;
        tdm_homography_at(map, pairs[i].u, pairs[i].v, &x, &y);
        tdm_homography_at(map, pairs[i].u + 1, pairs[i].v, &next_x, &next_y);
        if (hypot(pairs[i].x - x, pairs[i].y - y) <= stray * hypot(next_x - x, next_y - y))
            pairs[kept++] = pairs[i];
    }
    return kept;
}

/* Something was seen in every row and column: else the window may reach past what is there. */
static bool spans(const tdm_find_pair pairs[PATCHES], size_t count)
{
    int columns[COLUMNS] = {0}, rows[ROWS] = {0};
    bool all = true;
    for (size_t i = 0; i < count; i++) {
        columns[(int)pairs[i].u]++;
        rows[(int)pairs[i].v]++;
    }
    for (int i = 0; i < COLUMNS; i++)
        all = all && columns[i] > 0 && (i >= ROWS || rows[i] > 1);
    return all;
}

/* From the window's own areas: what else the lattice has caught may not be of the target's plane. */
static bool fit_window(const tdm_find_areas *areas, const tdm_find_lattice *lattice, const laying *l,
                       tdm_homography *map)
{
    tdm_find_pair pairs[PATCHES];
    size_t count = gather(areas, lattice, l, pairs), before = 0;
    while (count != before) {
        before = count;
        if (count < TDM_LATTICE_FEWEST || !spans(pairs, count) || !tdm_find_plane_fit(pairs, count, 0, map))
            return false;
        count = drop_strays(map, pairs, count);
    }
    return true;
}

static bool inside(const tdm_find_picture *picture, const tdm_homography *map)
{
    for (int i = 0; i < 4; i++) {
        double x, y;
        tdm_homography_at(map, i % 2 ? COLUMNS - 0.75 : -0.25, i / 2 ? ROWS - 0.75 : -0.25, &x, &y);
        if (!(x >= 0 && x <= picture->width && y >= 0 && y <= picture->height))
            return false;
    }
    return true;
}

static double share(double value, double from, double to)
{
    return fmin(fmax((value - from) / (to - from), 0), 1);
}

static double confidence_of(const tdm_find_guess *guess)
{
    if (guess->match.odd > most_odd || guess->match.odd_line)
        return 0;
    return share(guess->match.agreement, no_agreement, full_agreement) *
           share(guess->match.agreement - guess->rival, 0, clear_lead);
}

/* Two lattices' worth of the same areas, or the same window found twice, are no rivals. */
static bool same_place(const tdm_homography *a, const tdm_homography *b)
{
    for (int i = 0; i < 3; i++) {
        const double u = i == 1 ? COLUMNS - 1 : 0, v = i == 2 ? ROWS - 1 : 0;
        double ax, ay, bx, by, next_x, next_y;
        tdm_homography_at(a, u, v, &ax, &ay);
        tdm_homography_at(a, u + 1, v, &next_x, &next_y);
        tdm_homography_at(b, u, v, &bx, &by);
        if (hypot(ax - bx, ay - by) > 0.5 * hypot(next_x - ax, next_y - ay))
            return false;
    }
    return true;
}

static void keep_better(tdm_find_guess *guess, const tdm_homography *map, bool mirrored, tdm_find_match match)
{
    const bool same = guess->match.agreement > 0 && same_place(&guess->map, map);
    if (match.agreement > guess->match.agreement)
        *guess = (tdm_find_guess){*map, mirrored, match, same ? guess->rival : guess->match.agreement, 0};
    else if (match.agreement > guess->rival && !same)
        guess->rival = match.agreement;
}

/* The four ways round that a window allows: its colours, and its map, with columns and rows run backwards. */
static void try_ways(const tdm_find_reference *reference, const tdm_find_colour colours[PATCHES],
                     const tdm_homography *map, bool mirrored, tdm_find_guess *guess)
{
    for (int way = 0; way < 4; way++) {
        const bool back_i = way & 1, back_j = way & 2;
        const tdm_find_colour *ordered[PATCHES];
        for (int i = 0; i < PATCHES; i++) {
            const int column = back_i ? COLUMNS - 1 - i % COLUMNS : i % COLUMNS;
            const int row = back_j ? ROWS - 1 - i / COLUMNS : i / COLUMNS;
            ordered[i] = &colours[row * COLUMNS + column];
        }
        const double turn[9] = {
            back_i ? -1 : 1, 0, back_i ? COLUMNS - 1 : 0, 0, back_j ? -1 : 1, back_j ? ROWS - 1 : 0, 0, 0, 1};
        tdm_homography turned;
        tdm_matrix_multiply(map->m, turn, turned.m);
        keep_better(guess, &turned, mirrored != (back_i != back_j), tdm_find_match_of(reference, ordered));
    }
}

/* The target has hardly two patches alike; cloths, walls and keyboards have hardly two that aren't. */
static bool has_many_twins(const double encoded[PATCHES][3])
{
    int twins = 0;
    for (int i = 0; i < PATCHES; i++) {
        bool twin = false;
        for (int k = 0; k < PATCHES && !twin; k++)
            twin = k != i && fabs(encoded[i][0] - encoded[k][0]) < alike &&
                   fabs(encoded[i][1] - encoded[k][1]) < alike && fabs(encoded[i][2] - encoded[k][2]) < alike;
        twins += twin;
    }
    return twins > PATCHES / 2;
}

static bool try_window(const tdm_find_place *place, const tdm_find_lattice *lattice, const laying *l,
                       tdm_find_guess *guess)
{
    tdm_homography map;
    double encoded[PATCHES][3];
    tdm_find_colour colours[PATCHES];
    if (!fit_window(place->areas, lattice, l, &map) || !inside(place->picture, &map))
        return true;
    for (int i = 0; i < PATCHES; i++)
        probe(place->picture, &map, i % COLUMNS, i / COLUMNS, encoded[i]);
    if (has_many_twins((const double(*)[3])encoded))
        return true;
    if (!tdm_find_colours_of(place->device, (const double(*)[3])encoded, PATCHES, colours))
        return false;
    try_ways(place->reference, colours, &map, l->mirrored, guess);
    return true;
}

bool tdm_find_window(const tdm_find_place *place, const tdm_find_lattice *lattice, tdm_find_guess *best)
{
    tdm_find_guess guess = {0};
    for (int turned = 0; turned < 2; turned++) {
        const int across = turned ? ROWS : COLUMNS, down = turned ? COLUMNS : ROWS;
        for (int i = 0; i < (SPAN - across + 1) * (SPAN - down + 1); i++) {
            const laying l = lay(turned, i % (SPAN - across + 1), i / (SPAN - across + 1));
            if (!try_window(place, lattice, &l, &guess))
                return false;
        }
    }
    guess.confidence = confidence_of(&guess);
    if (guess.confidence > best->confidence ||
        (best->confidence == 0 && guess.match.agreement > best->match.agreement))
        *best = guess;
    return true;
}
