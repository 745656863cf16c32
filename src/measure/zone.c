/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/zone.h"

#include <math.h>

#include "measure/measure.h"

static tdm_code run_measures(const tdm_measure_input *input, struct tdm_zone_reading *out,
                             tdm_warnings *warnings, tdm_error *error)
{
    for (const tdm_measure *const *measure = tdm_measures; *measure; measure++) {
        const tdm_code code = (*measure)->compute(input, out, warnings, error);
        if (code != TDM_OK)
            return code;
    }
    return TDM_OK;
}

static void basics(const tdm_strip *strip, struct tdm_zone_reading *out)
{
    out->length_mm = tdm_mm(strip, strip->length);
    out->width_mm = tdm_mm(strip, strip->width);
    out->used_share = strip->used_share;
}

static tdm_code with_fall(tdm_measure_input *input, struct tdm_zone_reading *out, tdm_warnings *warnings,
                          tdm_error *error)
{
    tdm_fall fall = {0};
    tdm_code code = tdm_fall_make(input->strip, input->columns, &fall, error);
    if (code != TDM_OK)
        return code;
    input->fall = &fall;
    code = run_measures(input, out, warnings, error);
    tdm_fall_free(&fall);
    return code;
}

tdm_code tdm_zone_measure(const tdm_strip *strip, const tdm_sources *sources, const tdm_level_scale *scale,
                          const tdm_read_options *options, struct tdm_zone_reading *out,
                          tdm_warnings *warnings, tdm_error *error)
{
    size_t block = 0;
    tdm_columns columns = {0};
    tdm_resampling resampling = {0};
    basics(strip, out);
    tdm_code code = tdm_columns_correlation(strip, &block, error);
    if (code == TDM_OK)
        code = tdm_columns_make(strip, block, &columns, error);
    if (code == TDM_OK)
        code = tdm_resampling_make(options->resamples, columns.blocks, options->seed, &resampling, error);
    if (code == TDM_OK) {
        tdm_measure_input input = {.zone = out->name,
                                   .strip = strip,
                                   .columns = &columns,
                                   .resampling = &resampling,
                                   .sources = sources,
                                   .scale = scale};
        code = with_fall(&input, out, warnings, error);
    }
    tdm_resampling_free(&resampling);
    tdm_columns_free(&columns);
    return code;
}
