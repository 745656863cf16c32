/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <gsl/gsl_rng.h>
#include <stdlib.h>

#include "base/fail.h"
#include "measure/columns.h"

tdm_code tdm_resampling_make(size_t resamples, size_t blocks, uint64_t seed, tdm_resampling *out,
                             tdm_error *error)
{
    tdm_resampling made = {.resamples = resamples, .blocks = blocks};
    made.times = calloc(resamples * blocks, sizeof *made.times);
    gsl_rng *random = gsl_rng_alloc(gsl_rng_mt19937);
    if (!made.times || !random) {
        gsl_rng_free(random);
        tdm_resampling_free(&made);
        return tdm_fail_memory(error, NULL);
    }
    gsl_rng_set(random, (unsigned long)(seed & 0xffffffffU));
    for (size_t i = 0; i < resamples; i++) {
        for (size_t drawn = 0; drawn < blocks; drawn++)
            made.times[i * blocks + gsl_rng_uniform_int(random, (unsigned long)blocks)]++;
    }
    gsl_rng_free(random);
    *out = made;
    return TDM_OK;
}

void tdm_resampling_free(tdm_resampling *resampling)
{
    free(resampling->times);
    *resampling = (tdm_resampling){0};
}
