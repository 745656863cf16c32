/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where expectation-maximisation starts. */
#ifndef TDM_MEASURE_NORMALS_START_H
#define TDM_MEASURE_NORMALS_START_H

#include "measure/normals.h"

/* Sums over some values: weight, first and second moment. */
typedef struct tdm_moments {
    double weight, first, second;
} tdm_moments;

static inline void tdm_moments_add(tdm_moments *sums, double weight, double value)
{
    sums->weight += weight;
    sums->first += weight * value;
    sums->second += weight * value * value;
}

/* Parts of these sums; the likelihood is left as it is. False where a part has no weight to speak of. */
bool tdm_normals_settle(const tdm_moments *sums, size_t parts, double least_sd, tdm_normals *out);

enum { TDM_NORMALS_STARTS = 4 };

/* Fills up to TDM_NORMALS_STARTS starts and returns how many: cuts by Otsu; for three parts also the two
 * likeliest with a small third below, between and above. */
size_t tdm_normals_starts(const tdm_weighted *of, size_t parts, tdm_normals out[TDM_NORMALS_STARTS]);

#endif
