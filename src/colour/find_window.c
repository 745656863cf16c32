/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "colour/find_window.h"

#include <math.h>

#include "colour/find_laying.h"
#include "colour/matrix.h"

enum { SPAN = TDM_LATTICE_SPAN, COLUMNS = 6, ROWS = 4, PATCHES = TDM_REFERENCE_PATCHES };

static const double stray = 0.12; /* of the pitch, of an area from where the window's fit has it */
/* Choices: METHODS.md. */
static const double no_agreement = 0.55, full_agreement = 0.9, clear_lead = 0.25;
static const int most_odd = 5;

static size_t gather(const tdm_find_areas *areas, const tdm_find_lattice *lattice, const tdm_find_laying *l,
                     tdm_find_pair pairs[PATCHES])
{
    size_t count = 0;
    for (int i = 0; i < PATCHES; i++) {
        const int32_t at = tdm_find_laid(lattice, l, i % COLUMNS, i / COLUMNS);
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
static bool fit_window(const tdm_find_areas *areas, const tdm_find_lattice *lattice, const tdm_find_laying *l,
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

static bool try_window(const tdm_find_place *place, const tdm_find_lattice *lattice,
                       const tdm_find_colours *seen, const tdm_find_laying *l, tdm_find_guess *guess)
{
    tdm_homography map;
    double encoded[PATCHES][3];
    tdm_find_colour colours[PATCHES];
    if (!tdm_find_worth_trying(lattice, seen, l))
        return true;
    if (!fit_window(place->areas, lattice, l, &map) || !inside(place->picture, &map))
        return true;
    for (int i = 0; i < PATCHES; i++)
        tdm_find_probe(place->picture, &map, i % COLUMNS, i / COLUMNS, encoded[i]);
    if (!tdm_find_colours_of(place->device, (const double(*)[3])encoded, PATCHES, colours))
        return false;
    try_ways(place->reference, colours, &map, l->mirrored, guess);
    return true;
}

bool tdm_find_window(const tdm_find_place *place, const tdm_find_lattice *lattice, tdm_find_guess *best)
{
    tdm_find_guess guess = {0};
    tdm_find_colours seen;
    tdm_find_probe_lattice(place->picture, place->areas, lattice, &seen);
    for (int turned = 0; turned < 2; turned++) {
        const int across = turned ? ROWS : COLUMNS, down = turned ? COLUMNS : ROWS;
        for (int i = 0; i < (SPAN - across + 1) * (SPAN - down + 1); i++) {
            const tdm_find_laying l = tdm_find_lay(turned, i % (SPAN - across + 1), i / (SPAN - across + 1));
            if (!try_window(place, lattice, &seen, &l, &guess))
                return false;
        }
    }
    guess.confidence = confidence_of(&guess);
    if (guess.confidence > best->confidence ||
        (best->confidence == 0 && guess.match.agreement > best->match.agreement))
        *best = guess;
    return true;
}
