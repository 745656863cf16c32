/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdlib.h>

#include "base/fail.h"
#include "measure/line_spots.h"

/* Past the last flat column of a run, which one column that can't be told doesn't end. */
static size_t gap_end(const tdm_line *line, size_t first)
{
    size_t end = first + 1;
    while (end < line->columns) {
        if (line->state[end] == TDM_COLUMN_FLAT)
            end++;
        else if (line->state[end] != TDM_COLUMN_STEP && end + 1 < line->columns &&
                 line->state[end + 1] == TDM_COLUMN_FLAT)
            end += 2;
        else
            break;
    }
    return end;
}

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
        const size_t next = gap_end(line, first);
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
