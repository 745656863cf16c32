/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "colour/find_search.h"

#include <stdlib.h>

/* Choices: codes that neighbouring pixels of a patch may differ by, from a clean picture to a noisy one, and
 * the confidence from which no other is tried. */
static const int steps[] = {4, 8, 15};
static const double enough = 0.75;

static bool search_areas(const tdm_find_place *place, tdm_find_guess *best)
{
    tdm_find_near near;
    tdm_find_lattice lattice;
    if (!tdm_find_near_make(place->areas, place->picture->width, place->picture->height, &near))
        return false;
    tdm_find_growth growth = {.near = &near, .used = calloc(place->areas->count + 1, 1)};
    bool well = growth.used != NULL;
    while (well && tdm_find_lattice_next(&growth, &lattice))
        well = tdm_find_window(place, &lattice, best);
    free(growth.used);
    tdm_find_near_free(&near);
    return well;
}

bool tdm_find_search(const tdm_device *device, const tdm_find_picture *picture, tdm_find_guess *best)
{
    const tdm_find_reference reference = tdm_find_reference_of(device);
    for (size_t i = 0; i < sizeof steps / sizeof *steps && best->confidence < enough; i++) {
        tdm_find_areas areas;
        if (!tdm_find_areas_make(picture, steps[i], &areas))
            return false;
        const tdm_find_place place = {device, &reference, picture, &areas};
        const bool well = search_areas(&place, best);
        tdm_find_areas_free(&areas);
        if (!well)
            return false;
    }
    return true;
}
