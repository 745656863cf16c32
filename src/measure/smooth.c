/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/smooth.h"

#include <math.h>

static const double reach = 3;

bool tdm_smooth_lab(const tdm_fall *fall, const double *lab, double along, double out[3])
{
    const double bin = fall->bins > 1 ? fall->along[1] - fall->along[0] : fall->length;
    const double half = fmax(reach, 1.5 * bin);
    const double first = floor((along - half) / bin), last = ceil((along + half) / bin);
    double weights = 0, moment = 0, second = 0, sum[3] = {0}, cross[3] = {0};
    for (double at = fmax(first, 0); at <= last && at < (double)fall->bins; at += 1) {
        const size_t i = (size_t)at;
        const double offset = fall->along[i] - along, share = fabs(offset) / half;
        if (share >= 1 || fall->weight[i] <= 0)
            continue;
        const double cube = 1 - share * share * share;
        const double weight = fall->weight[i] * cube * cube * cube;
        weights += weight;
        moment += weight * offset;
        second += weight * offset * offset;
        for (int k = 0; k < 3; k++) {
            sum[k] += weight * lab[3 * i + (size_t)k];
            cross[k] += weight * offset * lab[3 * i + (size_t)k];
        }
    }
    if (weights <= 0)
        return false;
    const double determinant = weights * second - moment * moment;
    for (int k = 0; k < 3; k++)
        out[k] = determinant > 1e-9 * weights * weights ? (second * sum[k] - moment * cross[k]) / determinant
                                                        : sum[k] / weights;
    return true;
}
