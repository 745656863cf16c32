/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/strand_tint.h"

#include <math.h>

#include "colour/lab.h"

static const double least_tint = 0.1;   /* share of the contrast that shade alone can't explain */
static const double least_chroma = 5;   /* below it tint says nothing … */
static const double least_neutral = 10; /* … and only this much contrast in L* is surely more than shade */

bool tdm_is_shade(const double light[3], const double dark[3])
{
    const double contrast = light[0] - dark[0], dimming = (dark[0] + 16) / (light[0] + 16);
    if (tdm_chroma(light) < least_chroma)
        return contrast < least_neutral;
    return hypot(dark[1] - dimming * light[1], dark[2] - dimming * light[2]) < least_tint * contrast;
}

double tdm_bimodality(double second, double third, double fourth)
{
    if (!(second > 0) || !(fourth > 0))
        return 0;
    const double square = second * second;
    return (third * third / (square * second) + 1) * square / fourth;
}
