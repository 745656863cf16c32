/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "colour/find_window.h"

#include <math.h>
#include <stdlib.h>

#include "colour/matrix.h"

enum { SPAN = TDM_LATTICE_SPAN, COLUMNS = 6, ROWS = 4, PROBES = 5 };

static const double probe_reach =
    0.22; /* of the pitch, from a patch's middle: inside even where all is a little off */
/* Choices: METHODS.md. */
static const double no_agreement = 0.55, full_agreement = 0.9, clear_lead = 0.25;
static const int least_agreeing = 17;

static int by_size(const void *a, const void *b)
{
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* Median of each channel over the middle of a node. */
static void probe(const tdm_find_picture *picture, const tdm_homography *map, int u, int v, double colour[3])
{
    double values[3][PROBES * PROBES], at[3], x, y;
    for (int i = 0; i < PROBES * PROBES; i++) {
        tdm_homography_at(map, u + probe_reach * (i % PROBES - PROBES / 2) / (PROBES / 2),
                          v + probe_reach * (i / PROBES - PROBES / 2) / (PROBES / 2), &x, &y);
        tdm_find_picture_at(picture, x, y, at);
        for (int k = 0; k < 3; k++)
            values[k][i] = at[k];
    }
    for (int k = 0; k < 3; k++) {
        qsort(values[k], PROBES * PROBES, sizeof values[k][0], by_size);
        colour[k] = values[k][PROBES * PROBES / 2];
    }
}

/* Colours of all nodes, row by row. */
static bool probe_all(const tdm_device *device, const tdm_find_picture *picture,
                      const tdm_find_lattice *lattice, tdm_find_colour *out)
{
    double(*encoded)[3] = malloc(SPAN * SPAN * sizeof *encoded);
    if (!encoded)
        return false;
    for (int i = 0; i < SPAN * SPAN; i++)
        probe(picture, &lattice->map, i % SPAN, i / SPAN, encoded[i]);
    const bool done = tdm_find_colours_of(device, (const double(*)[3])encoded, SPAN * SPAN, out);
    free(encoded);
    return done;
}

/* Target's columns and rows to nodes: u = m[0] i + m[1] j + m[2], v = m[3] i + m[4] j + m[5]. */
typedef struct laying {
    int m[6];
    bool mirrored;
} laying;

/* way: 1 turned by a quarter, 2 columns run backwards, 4 rows do. */
static laying lay(int way, int u, int v)
{
    const bool swap = way & 1, back_i = way & 2, back_j = way & 4;
    const int step_i = back_i ? -1 : 1, step_j = back_j ? -1 : 1;
    const int from_i = back_i ? COLUMNS - 1 : 0, from_j = back_j ? ROWS - 1 : 0;
    laying l = {{step_i, 0, u + from_i, 0, step_j, v + from_j}, (swap + back_i + back_j) % 2 == 1};
    if (swap)
        l = (laying){{0, step_j, u + from_j, step_i, 0, v + from_i}, l.mirrored};
    return l;
}

static int node_of(const laying *l, int i, int j)
{
    return (l->m[3] * i + l->m[4] * j + l->m[5]) * SPAN + l->m[0] * i + l->m[1] * j + l->m[2];
}

static int seen_by(const tdm_find_lattice *lattice, const laying *l)
{
    int seen = 0;
    for (int i = 0; i < COLUMNS * ROWS; i++) {
        const int node = node_of(l, i % COLUMNS, i / COLUMNS);
        seen += lattice->area[node / SPAN][node % SPAN] >= 0;
    }
    return seen;
}

static tdm_homography map_of(const tdm_homography *lattice, const laying *l)
{
    tdm_homography map;
    double to_node[9] = {[8] = 1};
    for (int i = 0; i < 6; i++)
        to_node[i] = l->m[i];
    tdm_matrix_multiply(lattice->m, to_node, map.m);
    return map;
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
    if (guess->match.agreeing < least_agreeing)
        return 0;
    return share(guess->match.agreement, no_agreement, full_agreement) *
           share(guess->match.agreement - guess->rival, 0, clear_lead);
}

static void try_laying(const tdm_find_reference *reference, const tdm_find_picture *picture,
                       const tdm_find_lattice *lattice, const tdm_find_colour *nodes, const laying *l,
                       tdm_find_guess *guess)
{
    const tdm_find_colour *colours[COLUMNS * ROWS];
    const tdm_homography map = map_of(&lattice->map, l);
    for (int i = 0; i < COLUMNS * ROWS; i++)
        colours[i] = &nodes[node_of(l, i % COLUMNS, i / COLUMNS)];
    const tdm_find_match match = tdm_find_match_of(reference, colours);
    if (match.agreement > guess->match.agreement && inside(picture, &map))
        *guess = (tdm_find_guess){map, l->mirrored, match, guess->match.agreement, 0};
    else if (match.agreement > guess->rival)
        guess->rival = match.agreement;
}

bool tdm_find_window(const tdm_device *device, const tdm_find_reference *reference,
                     const tdm_find_picture *picture, const tdm_find_lattice *lattice, tdm_find_guess *best)
{
    tdm_find_guess guess = {0};
    tdm_find_colour *nodes = malloc(SPAN * SPAN * sizeof *nodes);
    if (!nodes || !probe_all(device, picture, lattice, nodes)) {
        free(nodes);
        return false;
    }
    for (int way = 0; way < 8; way++) {
        const int across = way & 1 ? ROWS : COLUMNS, down = way & 1 ? COLUMNS : ROWS;
        for (int v = 0; v + down <= SPAN; v++) {
            for (int u = 0; u + across <= SPAN; u++) {
                const laying l = lay(way, u, v);
                if (seen_by(lattice, &l) >= TDM_LATTICE_FEWEST)
                    try_laying(reference, picture, lattice, nodes, &l, &guess);
            }
        }
    }
    free(nodes);
    guess.confidence = confidence_of(&guess);
    if (guess.confidence > best->confidence ||
        (best->confidence == 0 && guess.match.agreement > best->match.agreement))
        *best = guess;
    return true;
}
