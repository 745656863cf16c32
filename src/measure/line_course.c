/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/line_course.h"

#include <gsl/gsl_math.h>
#include <gsl/gsl_sf_trig.h>
#include <math.h>

/* All choices. */
static const double least_periods = 2.5; /* that the columns must hold */
static const double shortest = 3;        /* columns a period */
static const double chance = 0.003;      /* that places at random alternate as regularly */
static const double least_share = 0.5;   /* of the residuals' variance */
static const double least_amplitude = 2; /* mm */
enum { LEAST_FOR_ZIGZAG = 12, STEPS = 6 /* a frequency's own width is so many steps */ };

/* Least squares of a mean, a cosine and a sine: the share of the variance they hold, and their amplitude. By
 * Lomb's (1976) and Scargle's (1982) shift of phase the two are orthogonal. */
static double power_at(const double *across, const double *residual, size_t count, double mean,
                       double frequency, double *amplitude)
{
    double sines = 0, cosines = 0;
    for (size_t i = 0; i < count; i++) {
        sines += sin(4 * M_PI * frequency * across[i]);
        cosines += cos(4 * M_PI * frequency * across[i]);
    }
    const double phase = 0.5 * atan2(sines, cosines);
    double along[2] = {0, 0}, square[2] = {0, 0}, total = 0;
    for (size_t i = 0; i < count; i++) {
        const double angle = 2 * M_PI * frequency * across[i] - phase, value = residual[i] - mean;
        const double wave[2] = {cos(angle), sin(angle)};
        for (int k = 0; k < 2; k++) {
            along[k] += value * wave[k];
            square[k] += wave[k] * wave[k];
        }
        total += value * value;
    }
    double held = 0, size = 0;
    for (int k = 0; k < 2; k++) {
        held += square[k] > 1e-9 ? along[k] * along[k] / square[k] : 0;
        size += square[k] > 1e-9 ? along[k] * along[k] / (square[k] * square[k]) : 0;
    }
    *amplitude = sqrt(size);
    return total > 0 ? held / total : 0;
}

/* That the strongest of so many independent frequencies holds such a share by chance (Scargle 1982; the
 * distribution of a share of a known total is that of Baluev 2008). */
static double by_chance(double share, size_t count, double frequencies)
{
    const double one = pow(1 - fmin(share, 1), 0.5 * ((double)count - 3));
    return 1 - pow(1 - one, frequencies);
}

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
        const double share = power_at(across, residual, count, mean, frequency, &size);
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
           by_chance(best, count, fmax((to - from) * span, 1)) < chance;
}
