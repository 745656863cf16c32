/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "colour/find_growth.h"

#include <stdlib.h>
#include <string.h>

/* Twice what cluttered photographs need for all their pictures. */
enum { SPAN = TDM_LATTICE_SPAN, MOST_TRIES = 4000 };

static const double known_share = 0.7; /* a choice */

static int32_t at_node(const tdm_find_lattice *lattice, int u, int v)
{
    return u >= 0 && v >= 0 && u < SPAN && v < SPAN ? lattice->area[v][u] : -1;
}

/* Whether most pairs of neighbours have been neighbours before. */
static bool is_known(const tdm_find_growth *growth, const tdm_find_lattice *lattice)
{
    int pairs = 0, known = 0;
    for (int i = 0; i < 2 * SPAN * SPAN; i++) {
        const int u = i / 2 % SPAN, v = i / 2 / SPAN;
        const int32_t here = at_node(lattice, u, v), next = at_node(lattice, u + i % 2, v + (i + 1) % 2);
        if (here < 0 || next < 0)
            continue;
        pairs++;
        for (int k = 0; k < 4; k++)
            known += growth->beside[here][k] == next;
    }
    return known > known_share * pairs;
}

static void remember(tdm_find_growth *growth, const tdm_find_lattice *lattice)
{
    for (int i = 0; i < SPAN * SPAN; i++) {
        const int u = i % SPAN, v = i / SPAN;
        if (lattice->area[v][u] < 0)
            continue;
        const int32_t around[4] = {at_node(lattice, u + 1, v), at_node(lattice, u - 1, v),
                                   at_node(lattice, u, v + 1), at_node(lattice, u, v - 1)};
        memcpy(growth->beside[lattice->area[v][u]], around, sizeof around);
    }
}

/* Well inside a lattice already found. One at its rim may be another's that was caught by chance. */
static bool is_settled(const tdm_find_growth *growth, size_t seed)
{
    int count = 0;
    for (int k = 0; k < 4; k++)
        count += growth->beside[seed][k] >= 0;
    return count >= 3;
}

bool tdm_find_growth_start(const tdm_find_near *near, tdm_find_growth *out)
{
    const size_t size = (near->areas->count + 1) * sizeof *out->beside;
    *out = (tdm_find_growth){.near = near, .left = MOST_TRIES, .beside = malloc(size)};
    if (!out->beside)
        return false;
    memset(out->beside, 0xff, size);
    return true;
}

void tdm_find_growth_free(tdm_find_growth *growth)
{
    free(growth->beside);
}

bool tdm_find_growth_next(tdm_find_growth *growth, tdm_find_lattice *out)
{
    while (growth->left > 0 && growth->seed < growth->near->areas->count) {
        const size_t seed = growth->seed++;
        if (is_settled(growth, seed) ||
            !tdm_find_lattice_from(growth->near, (int32_t)seed, &growth->left, out) || is_known(growth, out))
            continue;
        remember(growth, out);
        return true;
    }
    return false;
}
