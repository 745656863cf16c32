/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whether the numbers of a calibration file can be a correction. Bounds are wide: they keep out what can't
 * be, not what is rare. */
#include <math.h>
#include <stdio.h>

#include "colour/lab.h"
#include "colour/matrix.h"
#include "marks/calibration_file_parts.h"

static const double neutral = 1e-3; /* relative; a fit keeps it to 1e-9 */

static bool all_within(const double *values, int count, double low, double high)
{
    for (int i = 0; i < count; i++) {
        if (!(values[i] >= low && values[i] <= high))
            return false;
    }
    return true;
}

static tdm_code check_matrices(const tdm_marks_reader *reader, const tdm_calibration *of)
{
    double inverse[9];
    if (!all_within(of->to_rgb, 9, -100, 100))
        return tdm_key_fail(reader, "to_rgb", "must be nine numbers of -100 to 100");
    if (!tdm_matrix_invert(of->to_rgb, inverse))
        return tdm_key_fail(reader, "to_rgb", "must be a matrix that can be inverted");
    if (!all_within(of->from_rgb, 9, -100, 100))
        return tdm_key_fail(reader, "from_rgb", "must be nine numbers of -100 to 100");
    if (!tdm_matrix_invert(of->from_rgb, inverse))
        return tdm_key_fail(reader, "from_rgb", "must be a matrix that can be inverted");
    if (!all_within(of->from_roots, 9, -100, 100))
        return tdm_key_fail(reader, "from_roots", "must be nine numbers of -100 to 100");
    return TDM_OK;
}

/* White to equal RGB, and equal RGB to the white's chromaticity. */
static tdm_code check_neutral(const tdm_marks_reader *reader, const tdm_calibration *of)
{
    static const double equal[3] = {1, 1, 1};
    double rgb[3], xyz[3];
    tdm_matrix_apply(of->to_rgb, tdm_white_d50, rgb);
    for (int c = 0; c < 3; c++) {
        if (!(rgb[1] > 0 && fabs(rgb[c] / rgb[1] - 1) < neutral))
            return tdm_key_fail(reader, "to_rgb", "must take the white of D50 to three equal numbers");
    }
    tdm_calibration_mix(of, equal, xyz);
    for (int c = 0; c < 3; c++) {
        if (!(xyz[1] > 0.01 && xyz[1] < 100 && fabs(xyz[c] / xyz[1] / tdm_white_d50[c] - 1) < neutral))
            return tdm_key_fail(reader, of->rooted ? "from_roots" : "from_rgb",
                                "must take three equal numbers to a neutral colour of D50");
    }
    return TDM_OK;
}

static bool rising(const double *values, int count)
{
    for (int i = 1; i < count; i++) {
        if (!(values[i] > values[i - 1]))
            return false;
    }
    return values[0] == 0 && values[count - 1] <= 10;
}

/* Between the knots too. */
static bool never_falls(const tdm_calibration *of, int channel)
{
    enum { STEPS = 512 };
    const double top = of->curve_in[channel][of->knots - 1];
    double before = tdm_calibration_channel(of, channel, 0);
    for (int i = 1; i <= STEPS; i++) {
        const double root = 1.25 * top * i / STEPS;
        const double now = tdm_calibration_channel(of, channel, root * root * root);
        if (!(now >= before - 1e-12 && now < 1e9)) /* a flat piece wavers in its last digits */
            return false;
        before = now;
    }
    return true;
}

static tdm_code check_curve(const tdm_marks_reader *reader, const tdm_calibration *of, int channel)
{
    char curve[TDM_KEY_PATH], place[TDM_KEY_PATH];
    tdm_key_item(curve, "curves", (size_t)channel);
    tdm_key_child(place, curve, "in");
    if (!rising(of->curve_in[channel], of->knots))
        return tdm_key_fail(reader, place, "must rise from 0, to 10 at most");
    tdm_key_child(place, curve, "out");
    if (!rising(of->curve_out[channel], of->knots))
        return tdm_key_fail(reader, place, "must rise from 0, to 10 at most");
    tdm_key_child(place, curve, "slope");
    if (!all_within(of->curve_slope[channel], of->knots, 0, 100))
        return tdm_key_fail(reader, place, "must be numbers of 0 to 100");
    if (!never_falls(of, channel))
        return tdm_key_fail(reader, place, "makes the curve fall between its knots");
    return TDM_OK;
}

static tdm_code check_light(const tdm_marks_reader *reader, const tdm_light *light)
{
    for (int c = 0; c < 3; c++) {
        char place[TDM_KEY_PATH];
        tdm_key_item(place, "light.stops", (size_t)c);
        if (!all_within(light->stops[c], TDM_LIGHT_TERMS, -20, 20))
            return tdm_key_fail(reader, place, "must be numbers of -20 to 20");
    }
    if (!(tdm_light_most(light) <= TDM_LIGHT_MOST))
        return tdm_key_fail(reader, "light.stops", "must stay within 8 stops all over the picture");
    if (!(light->misfit >= 0 && light->misfit <= 5))
        return tdm_key_fail(reader, "light.misfit", "must be 0 to 5");
    return TDM_OK;
}

static tdm_code check_drift(const tdm_marks_reader *reader, const tdm_calibration *of)
{
    const double *v = of->drift_var;
    if (isnan(v[0]))
        return TDM_OK;
    /* The smallest target that is read is 24 px wide: a stop a pixel is more than a picture can hold there.
     */
    if (!all_within(of->drift, 2, -1, 1))
        return tdm_key_fail(reader, "drift.stops_per_px", "must be two numbers of -1 to 1");
    if (!all_within(v, 3, -1, 1))
        return tdm_key_fail(reader, "drift.variance", "must be three numbers of -1 to 1");
    if (!all_within(of->middle, 2, 0, INT32_MAX))
        return tdm_key_fail(reader, "drift.middle", "must be a place in a picture");
    if (!(v[0] >= 0 && v[2] >= 0 && v[1] * v[1] <= v[0] * v[2] * (1 + 1e-9)))
        return tdm_key_fail(reader, "drift.variance", "must be a covariance: xx, xy, yy");
    return TDM_OK;
}

static tdm_code check_errors(const tdm_marks_reader *reader, const tdm_calibration *of)
{
    static const char *const keys[] = {"de00.before_mean", "de00.before_max",    "de00.mean",
                                       "de00.max",         "de00.left_out_mean", "de00.hair_mean"};
    const double values[] = {of->before_mean,  of->before_max,    of->residual_mean,
                             of->residual_max, of->left_out_mean, of->hair_mean};
    for (size_t i = 0; i < sizeof values / sizeof values[0]; i++) {
        if (!isnan(values[i]) && !(values[i] >= 0 && values[i] <= 1000))
            return tdm_key_fail(reader, keys[i], "must be 0 to 1000");
    }
    if (!(of->u_lstar > 0 && of->u_lstar <= 100))
        return tdm_key_fail(reader, "u_lstar", "must be above 0, 100 at most");
    if (!(of->u_ab > 0 && of->u_ab <= 100))
        return tdm_key_fail(reader, "u_ab", "must be above 0, 100 at most");
    return TDM_OK;
}

tdm_code tdm_calibration_check(const tdm_marks_reader *reader, const tdm_calibration *calibration)
{
    tdm_code code = check_matrices(reader, calibration);
    if (code == TDM_OK)
        code = check_neutral(reader, calibration);
    if (code == TDM_OK && !all_within(calibration->gain, 3, 1e-3, 1e3))
        code = tdm_key_fail(reader, "gain", "must be three numbers of 0.001 to 1000");
    for (int c = 0; code == TDM_OK && calibration->knots > 0 && c < 3; c++)
        code = check_curve(reader, calibration, c);
    if (code == TDM_OK && calibration->light.degree > 0)
        code = check_light(reader, &calibration->light);
    if (code == TDM_OK)
        code = check_drift(reader, calibration);
    return code == TDM_OK ? check_errors(reader, calibration) : code;
}
