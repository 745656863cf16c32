/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/melt.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "colour/lab.h"

double tdm_melt_cover(const tdm_melt *melt, double along)
{
    if (melt->feather <= 0)
        return along < melt->to ? 1 : 0;
    const double sigma = melt->feather / TDM_RISE_PER_SIGMA;
    return 0.5 * erfc((along - melt->to) / sigma / sqrt(2));
}

void tdm_melt_apply(const tdm_hair *hair, const tdm_melt *melt, tdm_strip *out)
{
    const tdm_strip *strip = &hair->strip;
    double shade[3];
    tdm_lab_to_xyz(melt->lab, shade);
    for (size_t row = 0; row < strip->rows; row++) {
        const double cover = tdm_melt_cover(melt, ((double)row + 0.5) * strip->cell);
        for (size_t cell = row * strip->cols; cell < (row + 1) * strip->cols; cell++) {
            const float *from = strip->xyz + 3 * cell;
            float *to = out->xyz + 3 * cell;
            const bool lighter = (double)hair->body[3 * cell + 1] > shade[1];
            const double share = lighter && strip->use[cell] ? cover : 0;
            for (size_t k = 0; k < 3; k++)
                to[k] = (float)((1 - share) * (double)from[k] + share * (double)hair->shade[cell] * shade[k]);
        }
    }
    tdm_xyz_to_lab_many(out->xyz, out->lab, strip->rows * strip->cols);
}

tdm_code tdm_melt_scratch(const tdm_hair *hair, tdm_strip *out, tdm_error *error)
{
    const size_t cells = hair->strip.rows * hair->strip.cols;
    tdm_strip strip = hair->strip;
    strip.xyz = malloc(3 * cells * sizeof *strip.xyz);
    strip.lab = malloc(3 * cells * sizeof *strip.lab);
    strip.use = malloc(cells);
    if (!strip.xyz || !strip.lab || !strip.use) {
        tdm_strip_free(&strip);
        return tdm_fail_memory(error, NULL);
    }
    memcpy(strip.use, hair->strip.use, cells);
    *out = strip;
    return TDM_OK;
}
