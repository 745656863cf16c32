/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "colour/lab.h"
#include "plan/hair.h"

/* Mean of the used cells of a square; false where less than half are used. */
static bool gather(const tdm_hair *hair, size_t row, size_t col, size_t side, double mean[7])
{
    const tdm_strip *strip = &hair->strip;
    double used = 0, all = 0;
    memset(mean, 0, 7 * sizeof *mean);
    for (size_t i = row; i < row + side && i < strip->rows; i++) {
        for (size_t j = col; j < col + side && j < strip->cols; j++) {
            const size_t cell = i * strip->cols + j;
            all += 1;
            if (!strip->use[cell])
                continue;
            used += 1;
            for (size_t k = 0; k < 3; k++) {
                mean[k] += (double)strip->xyz[3 * cell + k];
                mean[3 + k] += (double)hair->body[3 * cell + k];
            }
            mean[6] += (double)hair->shade[cell];
        }
    }
    for (int k = 0; used > 0 && k < 7; k++)
        mean[k] /= used;
    return used > 0 && used >= 0.5 * all;
}

tdm_code tdm_hair_coarser(const tdm_hair *hair, double cell, tdm_hair *out, tdm_error *error)
{
    const tdm_strip *strip = &hair->strip;
    const size_t side = (size_t)fmax(cell / strip->cell + 0.5, 1);
    tdm_hair coarse = *hair;
    tdm_strip like = *strip;
    like.rows = (strip->rows + side - 1) / side;
    like.cols = (strip->cols + side - 1) / side;
    like.cell = strip->cell * (double)side;
    like.cell_px = strip->cell_px * (double)side;
    const tdm_code code = tdm_hair_allocate(&like, &coarse, error);
    if (code != TDM_OK) {
        tdm_hair_free(&coarse);
        return code;
    }
    for (size_t i = 0; i < like.rows * like.cols; i++) {
        double mean[7];
        coarse.strip.use[i] = gather(hair, i / like.cols * side, i % like.cols * side, side, mean);
        for (size_t k = 0; k < 3; k++) {
            coarse.strip.xyz[3 * i + k] = (float)mean[k];
            coarse.body[3 * i + k] = (float)mean[3 + k];
        }
        coarse.shade[i] = (float)mean[6];
    }
    tdm_xyz_to_lab_many(coarse.strip.xyz, coarse.strip.lab, like.rows * like.cols);
    *out = coarse;
    return TDM_OK;
}
