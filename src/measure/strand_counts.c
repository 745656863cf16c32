/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/strand_counts.h"

#include <math.h>
#include <stdlib.h>

#include "base/fail.h"
#include "colour/lab.h"
#include "measure/strand_tint.h"

static const double lowest = -50;

static bool allocate(size_t blocks, tdm_strand_counts *out)
{
    *out = (tdm_strand_counts){.block_count = blocks};
    out->blocks = calloc(blocks * TDM_TENTHS, sizeof *out->blocks);
    out->centre = calloc(TDM_TENTHS, sizeof *out->centre);
    out->whole = calloc(TDM_TENTHS, sizeof *out->whole);
    out->drawn = calloc(TDM_TENTHS, sizeof *out->drawn);
    out->xyz = calloc(3 * TDM_TENTHS, sizeof *out->xyz);
    return out->blocks && out->centre && out->whole && out->drawn && out->xyz;
}

void tdm_strand_counts_free(tdm_strand_counts *counts)
{
    free(counts->blocks);
    free(counts->centre);
    free(counts->whole);
    free(counts->drawn);
    free(counts->xyz);
    *counts = (tdm_strand_counts){0};
}

static void count_all(const tdm_strand_grid *grid, size_t block_cols, tdm_strand_counts *out)
{
    for (size_t i = 0; i < grid->windows * grid->cols; i++) {
        if (!isfinite(grid->score[i]))
            continue;
        size_t block = i % grid->cols / block_cols;
        if (block >= out->block_count)
            block = out->block_count - 1;
        const double place = fmin(fmax(10 * (grid->score[i] - lowest) + 0.5, 0), TDM_TENTHS - 1);
        const size_t tenth = (size_t)place;
        double xyz[3];
        tdm_lab_to_xyz(grid->lab + 3 * i, xyz);
        for (size_t k = 0; k < 3; k++)
            out->xyz[3 * tenth + k] += xyz[k];
        out->blocks[block * TDM_TENTHS + tenth] += 1;
        out->whole[tenth] += 1;
        out->total += 1;
    }
}

tdm_code tdm_strand_counts_make(const tdm_measure_input *input, const tdm_strand_grid *grid,
                                tdm_strand_counts *out, tdm_error *error)
{
    tdm_strand_counts counts;
    if (!allocate(input->columns->blocks, &counts)) {
        tdm_strand_counts_free(&counts);
        return tdm_fail_memory(error, NULL);
    }
    for (size_t i = 0; i < TDM_TENTHS; i++)
        counts.centre[i] = lowest + 0.1 * (double)i;
    count_all(grid, (size_t)fmax(input->columns->block / input->strip->cell + 0.5, 1), &counts);
    counts.effective = fmax((grid->to - grid->from) / tdm_strand_reach, 1) * (double)counts.block_count;
    *out = counts;
    return TDM_OK;
}

void tdm_strand_counts_draw(const tdm_strand_counts *counts, const uint16_t *times)
{
    for (size_t i = 0; i < TDM_TENTHS; i++)
        counts->drawn[i] = 0;
    for (size_t block = 0; block < counts->block_count; block++) {
        for (size_t i = 0; times[block] > 0 && i < TDM_TENTHS; i++)
            counts->drawn[i] += times[block] * counts->blocks[block * TDM_TENTHS + i];
    }
}

double tdm_strand_counts_bimodality(const tdm_strand_counts *counts)
{
    double mean = 0, moment[3] = {0, 0, 0};
    for (size_t i = 0; i < TDM_TENTHS; i++)
        mean += counts->whole[i] * counts->centre[i] / counts->total;
    for (size_t i = 0; i < TDM_TENTHS; i++) {
        const double d = counts->centre[i] - mean, share = counts->whole[i] / counts->total;
        moment[0] += share * d * d;
        moment[1] += share * d * d * d;
        moment[2] += share * d * d * d * d;
    }
    return tdm_bimodality(moment[0], moment[1], moment[2]);
}
