/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "colour/calibration.h"

#include <math.h>
#include <string.h>

#include "colour/matrix.h"
#include "colour/monotone.h"

/* The profile alone: half of the published mean difference between photographs and an instrument (33.4 in L*,
 * 8.0 in b*; Vaughn et al. 2009), so that an interval of k = 2 just reaches it. See METHODS.md. */
static const double u_lstar_alone = 16.7, u_ab_alone = 4.0;

/* Whether two matrices undo each other. */
static bool is_one(const double a[9], const double b[9], double within)
{
    double product[9];
    tdm_matrix_multiply(a, b, product);
    for (int i = 0; i < 9; i++) {
        if (!(fabs(product[i] - (i % 4 == 0 ? 1 : 0)) < within))
            return false;
    }
    return true;
}

tdm_calibration tdm_calibration_none(const tdm_device *device)
{
    tdm_calibration none = {.method = TDM_CALIBRATION_ICC,
                            .gain = {1, 1, 1},
                            .drift_var = {NAN, NAN, NAN},
                            .before_mean = NAN,
                            .before_max = NAN,
                            .residual_mean = NAN,
                            .residual_max = NAN,
                            .left_out_mean = NAN,
                            .hair_mean = NAN,
                            .u_lstar = u_lstar_alone,
                            .u_ab = u_ab_alone};
    memcpy(none.from_rgb, tdm_device_primaries(device), sizeof none.from_rgb);
    /* A device's primaries are invertible: checked where it is made. */
    (void)tdm_matrix_invert(none.from_rgb, none.to_rgb);
    return none;
}

bool tdm_calibration_starts_at(const tdm_calibration *calibration, const tdm_device *device)
{
    /* Profiles hold primaries in steps of 1.5e-5, and makers round sRGB's each in their way; 0.005 L* of
     * hair. */
    static const double same = 2e-4;
    return is_one(calibration->to_rgb, tdm_device_primaries(device), same);
}

/* The first knot is zero. Above the last the tangent there in linear light, below zero that of zero; between
 * them a monotone cubic over cube roots. */
static double curve_at(const double *x, const double *y, const double *slope, int knots, double linear)
{
    const double root = cbrt(linear);
    const int last = knots - 1;
    if (root <= 0)
        return linear * slope[0] * slope[0] * slope[0];
    if (root >= x[last]) {
        const double ratio = y[last] / x[last];
        const double tangent = slope[last] * ratio * ratio;
        return y[last] * y[last] * y[last] + tangent * (linear - x[last] * x[last] * x[last]);
    }
    const double out = tdm_monotone_at(x, y, slope, knots, root);
    return out * out * out;
}

double tdm_calibration_channel(const tdm_calibration *calibration, int channel, double linear)
{
    const double shaped = calibration->knots > 0
                              ? curve_at(calibration->curve_in[channel], calibration->curve_out[channel],
                                         calibration->curve_slope[channel], calibration->knots, linear)
                              : linear;
    return calibration->gain[channel] * shaped;
}

/* Geometric mean of two channels. Its slope grows without bound where one of them goes to zero: below a
 * hundredth of the other it goes on along its tangent, still in proportion to both, until that meets zero. */
static double root_term(double a, double b)
{
    static const double least = 0.1; /* root of a hundredth */
    const double low = fmin(a, b), high = fmax(a, b);
    if (!(high > 0))
        return 0;
    if (low >= least * least * high)
        return sqrt(low * high);
    return fmax(0.5 * (least * high + low / least), 0);
}

void tdm_calibration_mix(const tdm_calibration *calibration, const double rgb[3], double xyz[3])
{
    const double in[3] = {rgb[0], rgb[1], rgb[2]};
    tdm_matrix_apply(calibration->from_rgb, in, xyz);
    if (!calibration->rooted)
        return;
    double roots[3] = {root_term(in[0], in[1]), root_term(in[1], in[2]), root_term(in[0], in[2])};
    tdm_matrix_apply(calibration->from_roots, roots, roots);
    for (int i = 0; i < 3; i++)
        xyz[i] += roots[i];
}

/* As tdm_calibration_none makes it; whatever the method is called. */
static bool changes_nothing(const tdm_calibration *calibration)
{
    static const double rounding = 1e-9;
    for (int c = 0; c < 3; c++) {
        if (calibration->gain[c] != 1)
            return false;
    }
    return calibration->knots == 0 && !calibration->rooted &&
           is_one(calibration->from_rgb, calibration->to_rgb, rounding);
}

void tdm_calibration_apply(const tdm_calibration *calibration, float *xyz, size_t count)
{
    if (changes_nothing(calibration))
        return;
    for (size_t i = 0; i < count; i++) {
        double triple[3] = {(double)xyz[3 * i], (double)xyz[3 * i + 1], (double)xyz[3 * i + 2]};
        tdm_matrix_apply(calibration->to_rgb, triple, triple);
        for (int c = 0; c < 3; c++)
            triple[c] = tdm_calibration_channel(calibration, c, triple[c]);
        tdm_calibration_mix(calibration, triple, triple);
        for (size_t c = 0; c < 3; c++)
            xyz[3 * i + c] = (float)triple[c];
    }
}
