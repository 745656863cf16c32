/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reflectance to CIELAB under D50, 2 degrees: sums over 380 to 780 nm in steps of 5, as in ASTM E308. */
#include "colour/lab.h"
#include "colour/reference_parts.h"

/* Lagrange's polynomial through `points` values at whole places from `first` on. */
static double lagrange(const double *values, size_t first, size_t points, double place)
{
    double sum = 0;
    for (size_t i = first; i < first + points; i++) {
        double weight = 1;
        for (size_t j = first; j < first + points; j++) {
            if (j != i)
                weight *= (place - (double)j) / ((double)i - (double)j);
        }
        sum += weight * values[i];
    }
    return sum;
}

/* Between bands a cubic through the two on either side, in the first and last interval a parabola; beyond the
 * ends the last value goes on. count is at least 4. */
static double at_wavelength(const double *values, size_t count, double place)
{
    if (place <= 0)
        return values[0];
    if (place >= (double)(count - 1))
        return values[count - 1];
    const size_t below = (size_t)place;
    if (place == (double)below)
        return values[below];
    if (below == 0)
        return lagrange(values, 0, 3, place);
    if (below + 2 == count)
        return lagrange(values, count - 3, 3, place);
    return lagrange(values, below - 1, 4, place);
}

void tdm_spectrum_to_lab(const double *values, size_t count, unsigned first_nm, unsigned step_nm,
                         double lab[3])
{
    double sum[3] = {0}, white[3] = {0}, xyz[3];
    for (int i = 0; i < TDM_BANDS; i++) {
        const tdm_d50_band *band = &tdm_d50_bands[i];
        const double nm = TDM_BAND_FIRST + i * TDM_BAND_STEP;
        const double reflected = at_wavelength(values, count, (nm - first_nm) / step_nm);
        for (int k = 0; k < 3; k++) {
            white[k] += band->power * band->observer[k];
            sum[k] += band->power * band->observer[k] * reflected;
        }
    }
    /* Against the perfect diffuser of the same sum, so that it is exactly white. */
    for (int k = 0; k < 3; k++)
        xyz[k] = tdm_white_d50[k] * sum[k] / white[k];
    tdm_xyz_to_lab(xyz, lab);
}
