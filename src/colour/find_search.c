/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "colour/find_search.h"

#include <math.h>
#include <stdlib.h>

#include "colour/find_growth.h"

/* Choices: codes that neighbouring pixels of a patch may differ by, from a clean picture to a noisy one. */
static const int steps[] = {4, 8, 15};
static const double same_place = 0.3, same_size = 2; /* of the side; ratio of pixels */
/* Lattices are looked for from the largest on; a noisy picture of a room has some thousand areas, a weave or
 * a printed screen far more, which would take seconds. */
enum { MOST_SEARCHED = 16000 };

static bool is_same(const tdm_find_area *a, const tdm_find_area *b)
{
    return a->pixels < same_size * b->pixels && b->pixels < same_size * a->pixels;
}

/* The same patch comes out at several steps; its largest area, which has lost least at its edges, stays. */
static bool drop_doubles(tdm_find_areas *areas, const tdm_find_near *near)
{
    size_t kept = 0;
    uint8_t *double_of = calloc(areas->count + 1, 1);
    if (!double_of)
        return false;
    for (size_t i = 0; i < areas->count; i++) {
        const tdm_find_area *area = &areas->at[i];
        int32_t found[32];
        const size_t count =
            tdm_find_near_all(near, area->x, area->y, same_place * sqrt(area->pixels), found, 32);
        for (size_t k = 0; k < count && !double_of[i]; k++) {
            const tdm_find_area *other = &areas->at[found[k]];
            const bool larger =
                other->pixels > area->pixels || (other->pixels >= area->pixels && found[k] < (int32_t)i);
            double_of[i] = larger && found[k] != (int32_t)i && is_same(area, other);
        }
    }
    for (size_t i = 0; i < areas->count; i++) {
        if (!double_of[i])
            areas->at[kept++] = areas->at[i];
    }
    areas->count = kept;
    free(double_of);
    return true;
}

/* Places settle what is equally large, so that the order is always the same. */
static int largest_first(const void *a, const void *b)
{
    const tdm_find_area *x = a, *y = b;
    if (x->pixels < y->pixels || x->pixels > y->pixels)
        return x->pixels < y->pixels ? 1 : -1;
    if (x->y < y->y || x->y > y->y)
        return x->y < y->y ? -1 : 1;
    return (x->x > y->x) - (x->x < y->x);
}

static void keep_largest(tdm_find_areas *areas)
{
    if (areas->count > 0)
        qsort(areas->at, areas->count, sizeof *areas->at, largest_first);
    if (areas->count > MOST_SEARCHED)
        areas->count = MOST_SEARCHED;
}

static bool find_areas(const tdm_find_picture *picture, tdm_find_areas *areas)
{
    tdm_find_near near;
    for (size_t i = 0; i < sizeof steps / sizeof *steps; i++) {
        if (!tdm_find_areas_add(picture, steps[i], areas))
            return false;
    }
    if (!tdm_find_near_make(areas, picture->width, picture->height, &near))
        return false;
    const bool well = drop_doubles(areas, &near);
    tdm_find_near_free(&near);
    keep_largest(areas);
    return well;
}

static bool search_areas(const tdm_find_place *place, tdm_find_guess *best)
{
    tdm_find_near near;
    tdm_find_lattice lattice;
    if (!tdm_find_near_make(place->areas, place->picture->width, place->picture->height, &near))
        return false;
    tdm_find_growth growth;
    bool well = tdm_find_growth_start(&near, &growth);
    while (well && tdm_find_growth_next(&growth, &lattice))
        well = tdm_find_window(place, &lattice, best);
    tdm_find_growth_free(&growth);
    tdm_find_near_free(&near);
    return well;
}

bool tdm_find_search(const tdm_device *device, const tdm_find_picture *picture, tdm_find_guess *best)
{
    const tdm_find_reference reference = tdm_find_reference_of(device);
    tdm_find_areas areas = {0};
    const tdm_find_place place = {device, &reference, picture, &areas};
    const bool well = find_areas(picture, &areas) && search_areas(&place, best);
    tdm_find_areas_free(&areas);
    return well;
}
