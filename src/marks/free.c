/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <jansson.h>
#include <stdlib.h>

#include "marks/marks.h"

void tdm_marks_free(tdm_marks *marks)
{
    for (size_t i = 0; i < marks->zone_count; i++) {
        free(marks->zones[i].name);
        free(marks->zones[i].side);
        free(marks->zones[i].path.xy);
        free(marks->zones[i].widths);
    }
    for (size_t i = 0; i < marks->grey_count; i++)
        free(marks->greys[i].polygon.xy);
    for (size_t i = 0; i < marks->swatch_count; i++) {
        free(marks->swatches[i].polygon.xy);
        free(marks->swatches[i].name);
    }
    for (size_t i = 0; i < marks->exclude_count; i++)
        free(marks->excludes[i].xy);
    free(marks->zones);
    free(marks->greys);
    free(marks->swatches);
    free(marks->excludes);
    free(marks->photo);
    json_decref(marks->json);
    *marks = (tdm_marks){0};
}
