/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The target's 6 by 4 patches laid on a lattice. */
#ifndef TDM_COLOUR_FIND_LAYING_H
#define TDM_COLOUR_FIND_LAYING_H

#include "colour/find_probe.h"

/* Target's columns and rows to nodes: u = m[0] i + m[1] j + m[2], v = m[3] i + m[4] j + m[5]. */
typedef struct tdm_find_laying {
    int m[6];
    bool mirrored;
} tdm_find_laying;

/* The first patch on this node. Turned by a quarter, columns and rows change places, which is as a mirror
 * does. */
tdm_find_laying tdm_find_lay(bool turned, int u, int v);

/* The area of the target's column i and row j; -1 where none was seen. */
int32_t tdm_find_laid(const tdm_find_lattice *lattice, const tdm_find_laying *l, int i, int j);

/* A quick look at the areas' own colours: whether enough was seen, of enough colours, and an outer row may be
 * the neutral one, either way round. */
bool tdm_find_worth_trying(const tdm_find_lattice *lattice, const tdm_find_colours *seen,
                           const tdm_find_laying *l);

#endif
