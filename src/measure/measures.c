/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "measure/measure.h"

const tdm_measure *const tdm_measures[] = {
    &tdm_measure_areas,       &tdm_measure_gradient,   &tdm_measure_root,
    &tdm_measure_demarcation, &tdm_measure_visibility, &tdm_measure_strands,
    &tdm_measure_evenness,    &tdm_measure_grey,       NULL,
};

double tdm_gloss_mean(const tdm_measure_input *input, size_t from, size_t to)
{
    double sum = 0, weights = 0;
    for (size_t i = from; i < to && i < input->fall->bins; i++) {
        sum += input->fall->weight[i] * input->fall->gloss[i];
        weights += input->fall->weight[i];
    }
    return weights > 0 ? sum / weights : 0;
}

double tdm_mm(const tdm_strip *strip, double length)
{
    return strip->scaled ? length : NAN;
}

double tdm_from_root(const tdm_strip *strip, double along)
{
    return tdm_mm(strip, strip->root + along);
}
