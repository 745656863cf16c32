/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "colour/made_calibration.h"

#include <math.h>

#include "colour/matrix.h"

/* out = in ^ power by knots: a camera's contrast taken out. */
static void put_curve(tdm_calibration *to, int channel, double power)
{
    to->knots = TDM_CURVE_KNOTS;
    for (int i = 0; i < TDM_CURVE_KNOTS; i++) {
        const double in = (double)i / (TDM_CURVE_KNOTS - 1);
        to->curve_in[channel][i] = in;
        to->curve_out[channel][i] = pow(in, power);
        to->curve_slope[channel][i] = i == 0 ? 0.5 : power * pow(in, power - 1);
    }
}

/* Columns of the device's primaries mixed by rows that sum to the given share. */
static void mix(const tdm_device *device, const double rows[9], double out[9])
{
    tdm_matrix_multiply(tdm_device_primaries(device), rows, out);
}

tdm_calibration made_calibration(const tdm_device *device, int kind)
{
    /* rows sum to 1; to 1.12; to -0.12 */
    static const double plain[9] = {1.3, -0.25, -0.05, -0.1, 1.25, -0.15, 0.02, -0.32, 1.3};
    static const double linear[9] = {1.45, -0.25, -0.08, -0.05, 1.3, -0.13, 0.02, -0.3, 1.4};
    static const double roots[9] = {-0.2, 0.05, 0.03, -0.1, -0.12, 0.1, 0.06, 0.02, -0.2};
    tdm_calibration made = tdm_calibration_none(device);
    made.method = kind == MADE_GAINS ? TDM_CALIBRATION_GREY : TDM_CALIBRATION_TARGET;
    made.gain[0] = 1.7;
    made.gain[1] = 2;
    made.gain[2] = 1.2;
    if (kind == MADE_GAINS)
        return made;
    for (int c = 0; c < 3; c++)
        put_curve(&made, c, 1.1 + 0.05 * c);
    mix(device, kind == MADE_ROOTS ? linear : plain, made.from_rgb);
    made.rooted = kind == MADE_ROOTS;
    if (made.rooted)
        mix(device, roots, made.from_roots);
    return made;
}
