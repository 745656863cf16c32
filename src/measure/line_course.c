/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/line_course.h"

#include <gsl/gsl_math.h>
#include <gsl/gsl_sf_trig.h>
#include <math.h>

#include "measure/periodogram.h"

/* All choices. */
static const double least_periods = 2.5; /* that the columns must hold */
static const double shortest = 3;        /* columns a period */
static const double chance = 0.003;      /* that places at random alternate as regularly */
static const double least_share = 0.5;   /* of the residuals' variance */
static const double least_amplitude = 2; /* mm */
enum { LEAST_FOR_ZIGZAG = 12, STEPS = 6 /* a frequency's own width is so many steps */ };

/* A column averages over its width what alternates; and a wave of straight flanks is pi^2 / 8 as high as its
 * first harmonic. */
static double peak_to_peak(double amplitude, double period, double column)
{
    return 2 * amplitude * (M_PI * M_PI / 8) / gsl_sf_sinc(column / period);
}

bool tdm_line_zigzag(const double *across, const double *residual, size_t count, double column,
                     tdm_zigzag *out)
{
    if (count < LEAST_FOR_ZIGZAG)
        return false;
    const double span = across[count - 1] - across[0] + column;
    const double from = least_periods / span, to = 1 / (shortest * column);
    double mean = 0, best = 0, amplitude = 0;
    for (size_t i = 0; i < count; i++)
        mean += residual[i] / (double)count;
    for (double frequency = from; frequency <= to; frequency += 1 / (STEPS * span)) {
        double size = 0;
        const double share = tdm_wave_share(across, residual, count, mean, frequency, &size);
        if (share > best) {
            best = share;
            amplitude = size;
            out->period = 1 / frequency;
        }
    }
    if (best <= 0)
        return false;
    out->amplitude = peak_to_peak(amplitude, out->period, column);
    return best >= least_share && out->amplitude >= least_amplitude &&
           tdm_wave_chance(best, (double)count, fmax((to - from) * span, 1)) < chance;
}
