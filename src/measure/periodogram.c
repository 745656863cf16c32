/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/periodogram.h"

#include <gsl/gsl_math.h>
#include <math.h>

/* By Lomb's shift of phase cosine and sine are orthogonal. */
static double phase_of(const double *across, size_t count, double frequency)
{
    double sines = 0, cosines = 0;
    for (size_t i = 0; i < count; i++) {
        sines += sin(4 * M_PI * frequency * across[i]);
        cosines += cos(4 * M_PI * frequency * across[i]);
    }
    return 0.5 * atan2(sines, cosines);
}

double tdm_wave_share(const double *across, const double *values, size_t count, double mean, double frequency,
                      double *amplitude)
{
    const double phase = phase_of(across, count, frequency);
    double along[2] = {0, 0}, square[2] = {0, 0}, total = 0;
    for (size_t i = 0; i < count; i++) {
        const double angle = 2 * M_PI * frequency * across[i] - phase, value = values[i] - mean;
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
    if (amplitude)
        *amplitude = sqrt(size);
    return total > 0 ? held / total : 0;
}

double tdm_wave_chance(double share, double count, double frequencies)
{
    const double one = pow(1 - fmin(share, 1), 0.5 * (count - 3));
    return 1 - pow(1 - one, frequencies);
}
