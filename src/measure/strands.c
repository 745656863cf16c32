/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Light and dark strands of a zone: below the line, and at root, mid-lengths and ends. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "measure/measure.h"
#include "measure/ribbons.h"
#include "measure/strand_area.h"
#include "measure/strand_grid.h"
#include "measure/strand_parts.h"
#include "measure/strand_report.h"
#include "measure/strand_third.h"

static tdm_code keep_map(const tdm_measure_input *input, const tdm_strand_grid *grid, tdm_strand_map *out,
                         tdm_error *error)
{
    float *light = malloc(grid->windows * grid->cols * sizeof *light);
    if (!light)
        return tdm_fail_memory(error, NULL);
    for (size_t i = 0; i < grid->windows * grid->cols; i++)
        light[i] = (float)grid->light[i];
    *out = (tdm_strand_map){.windows = grid->windows,
                            .cols = grid->cols,
                            .from = grid->from,
                            .window = grid->window,
                            .cell = input->strip->cell,
                            .light = light};
    return TDM_OK;
}

static tdm_code measure_stretch(const tdm_measure_input *input, const tdm_strand_field *field,
                                const tdm_strand_grid *grid, tdm_strand_parts *parts,
                                struct tdm_zone_reading *out, tdm_warnings *warnings, tdm_error *error)
{
    tdm_code code = tdm_strand_parts_of(input, grid, parts, error);
    if (code != TDM_OK || !parts->separable)
        return code; /* "not separable" is an answer, not a fault */
    tdm_strand_parts_mark(parts, grid);
    code = tdm_strand_third(input, grid, parts, error);
    if (code != TDM_OK)
        return code;
    tdm_strand_parts_report(input, grid, parts, out);
    code = keep_map(input, grid, &out->strands.map, error);
    if (code == TDM_OK)
        code = tdm_ribbons(input, field, grid, out, warnings, error);
    return code;
}

static tdm_code measure_areas(const tdm_measure_input *input, const tdm_strand_field *field,
                              const tdm_strand_grid *grid, const tdm_strand_parts *parts,
                              struct tdm_zone_reading *out, tdm_error *error)
{
    const double length = input->strip->length, first = fmin(0.1 * length, 20);
    const struct {
        double from, to;
        tdm_strand_area *out;
    } areas[] = {{0, first, &out->strands.root},
                 {length / 3, length * 2 / 3, &out->strands.mid},
                 {length - first, length, &out->strands.ends}};
    tdm_code code = TDM_OK;
    for (size_t i = 0; code == TDM_OK && i < sizeof areas / sizeof areas[0]; i++)
        code = tdm_strand_area_measure(input, field, grid, parts, areas[i].from, areas[i].to, out,
                                       areas[i].out, error);
    return code;
}

static tdm_code measure(const tdm_measure_input *input, const tdm_strand_field *field,
                        struct tdm_zone_reading *out, tdm_warnings *warnings, tdm_error *error)
{
    tdm_strand_grid grid = {0};
    tdm_strand_parts parts = {.separable = false};
    tdm_error own = {0};
    double from, to;
    tdm_strand_stretch(input->fall, &from, &to);
    tdm_code code = tdm_strand_grid_make(input->strip, field, from, to, &grid, &own);
    if (code == TDM_ERR_UNUSABLE)
        return tdm_warn(warnings, error, "short-strands", input->zone, "%s", own.text);
    if (code != TDM_OK) {
        if (error)
            *error = own;
        return code;
    }
    code = measure_stretch(input, field, &grid, &parts, out, warnings, error);
    if (code == TDM_OK)
        code = measure_areas(input, field, &grid, &parts, out, error);
    tdm_strand_grid_free(&grid);
    return code;
}

static tdm_code compute(const tdm_measure_input *input, struct tdm_zone_reading *out, tdm_warnings *warnings,
                        tdm_error *error)
{
    tdm_strand_field field = {0};
    tdm_code code = tdm_strand_field_make(input->strip, &field, error);
    if (code != TDM_OK)
        return code;
    code = measure(input, &field, out, warnings, error);
    tdm_strand_field_free(&field);
    return code;
}

const tdm_measure tdm_measure_strands = {.name = "strands", .compute = compute};
