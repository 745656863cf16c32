/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "colour/find_laying.h"

#include <math.h>

#include "colour/find_neutral.h"

enum { COLUMNS = 6, ROWS = 4, PATCHES = COLUMNS * ROWS };

static const double alike = 6; /* codes */

tdm_find_laying tdm_find_lay(bool turned, int u, int v)
{
    if (turned)
        return (tdm_find_laying){{0, 1, u, 1, 0, v}, true};
    return (tdm_find_laying){{1, 0, u, 0, 1, v}, false};
}

int32_t tdm_find_laid(const tdm_find_lattice *lattice, const tdm_find_laying *l, int i, int j)
{
    return lattice->area[l->m[3] * i + l->m[4] * j + l->m[5]][l->m[0] * i + l->m[1] * j + l->m[2]];
}

/* NULL where it wasn't seen. */
static const double *colour_at(const tdm_find_lattice *lattice, const tdm_find_colours *seen,
                               const tdm_find_laying *l, int i, int j)
{
    const int u = l->m[0] * i + l->m[1] * j + l->m[2], v = l->m[3] * i + l->m[4] * j + l->m[5];
    return lattice->area[v][u] >= 0 ? seen->at[v][u] : NULL;
}

static bool twins(const double a[3], const double b[3])
{
    return fabs(a[0] - b[0]) < alike && fabs(a[1] - b[1]) < alike && fabs(a[2] - b[2]) < alike;
}

/* Enough was seen, and of many colours: the target has hardly two patches alike; cloths, walls and keyboards
 * have hardly two that aren't. */
static bool is_varied(const tdm_find_lattice *lattice, const tdm_find_colours *seen, const tdm_find_laying *l)
{
    const double *colours[PATCHES];
    int count = 0, doubles = 0;
    for (int i = 0; i < PATCHES; i++) {
        const double *colour = colour_at(lattice, seen, l, i % COLUMNS, i / COLUMNS);
        if (colour)
            colours[count++] = colour;
    }
    for (int i = 0; i < count; i++) {
        bool twin = false;
        for (int k = 0; k < count && !twin; k++)
            twin = k != i && twins(colours[i], colours[k]);
        doubles += twin;
    }
    return count >= TDM_LATTICE_FEWEST && doubles <= count / 2;
}

/* Whether the first or the last row, from either end, may be the neutral one. */
static bool has_neutral_row(const tdm_find_lattice *lattice, const tdm_find_colours *seen,
                            const tdm_find_laying *l)
{
    for (int way = 0; way < 4; way++) {
        const double *colours[COLUMNS];
        for (int i = 0; i < COLUMNS; i++) {
            const int column = way & 1 ? COLUMNS - 1 - i : i, row = way & 2 ? ROWS - 1 : 0;
            colours[i] = colour_at(lattice, seen, l, column, row);
        }
        if (tdm_find_neutral_row(colours))
            return true;
    }
    return false;
}

bool tdm_find_worth_trying(const tdm_find_lattice *lattice, const tdm_find_colours *seen,
                           const tdm_find_laying *l)
{
    return is_varied(lattice, seen, l) && has_neutral_row(lattice, seen, l);
}
