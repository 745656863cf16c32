/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/strand_map.h"

#include <stdlib.h>

void tdm_strand_map_clear(tdm_strand_map *map)
{
    for (size_t i = 0; i < map->ribbon_count; i++)
        free(map->ribbons[i].edges);
    free(map->ribbons);
    free(map->light);
    *map = (tdm_strand_map){0};
}
