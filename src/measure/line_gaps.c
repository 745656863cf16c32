/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdlib.h>

#include "base/fail.h"
#include "measure/line_spots.h"

tdm_code tdm_line_gaps(const tdm_measure_input *input, const tdm_line *line, const tdm_stagger_fit *fit,
                       double width, tdm_places *out, tdm_error *error)
{
    out->items = calloc(line->columns + 1, sizeof *out->items);
    if (!out->items)
        return tdm_fail_memory(error, NULL);
    const double middle = 0.5 * (double)input->strip->cols * input->strip->cell;
    for (size_t first = 0; first < line->columns; first++) {
        if (line->state[first] != TDM_COLUMN_FLAT)
            continue;
        size_t next = first;
        while (next < line->columns && line->state[next] == TDM_COLUMN_FLAT)
            next++;
        const double across = 0.5 * (tdm_line_across(line, first) + tdm_line_across(line, next - 1));
        out->items[out->count++] =
            (tdm_place){.mm = tdm_from_root(input->strip, tdm_stagger_at(fit, across)),
                        .across_mm = tdm_mm(input->strip, across - middle),
                        .length_mm = tdm_mm(input->strip, width),
                        .width_mm = tdm_mm(input->strip, (double)(next - first) * line->column)};
        first = next;
    }
    return TDM_OK;
}
