/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "colour/find_probe.h"

#include <math.h>

enum { SPAN = TDM_LATTICE_SPAN, PROBES = 3 };

/* Of the pitch, from a patch's middle: inside even where all is a little off. */
static const double probe_reach = 0.2;

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

void tdm_find_probe(const tdm_find_picture *picture, const tdm_homography *map, int u, int v,
                    double colour[3])
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

/* The same of an area that was seen, without any map. */
static void probe_area(const tdm_find_picture *picture, const tdm_find_area *area, double colour[3])
{
    const double reach = probe_reach * sqrt(area->pixels);
    const tdm_homography flat = {{reach, 0, area->x, 0, reach, area->y, 0, 0, 1}};
    tdm_find_probe(picture, &flat, 0, 0, colour);
}

void tdm_find_probe_lattice(const tdm_find_picture *picture, const tdm_find_areas *areas,
                            const tdm_find_lattice *lattice, tdm_find_colours *out)
{
    for (int i = 0; i < SPAN * SPAN; i++) {
        const int32_t at = lattice->area[i / SPAN][i % SPAN];
        if (at >= 0)
            probe_area(picture, &areas->at[at], out->at[i / SPAN][i % SPAN]);
    }
}
