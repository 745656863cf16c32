/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "measure/measure.h"

const tdm_measure *const tdm_measures[] = {
    &tdm_measure_areas,      &tdm_measure_gradient, &tdm_measure_demarcation,
    &tdm_measure_visibility, &tdm_measure_strands,  NULL,
};

double tdm_mm(const tdm_strip *strip, double length)
{
    return strip->scaled ? length : NAN;
}
