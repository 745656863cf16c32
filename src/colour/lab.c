/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "colour/lab.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

const double tdm_white_d50[3] = {0.9642, 1.0, 0.8249};

/* CIE 15:2004: exact fractions, so that the two parts join. */
static const double epsilon = 216.0 / 24389.0;
static const double kappa = 24389.0 / 27.0;

static double forward(double t)
{
    return t > epsilon ? cbrt(t) : (kappa * t + 16) / 116;
}

static double backward(double f)
{
    return f > 6.0 / 29.0 ? f * f * f : (116 * f - 16) / kappa;
}

void tdm_xyz_to_lab(const double xyz[3], double lab[3])
{
    const double fx = forward(xyz[0] / tdm_white_d50[0]);
    const double fy = forward(xyz[1] / tdm_white_d50[1]);
    const double fz = forward(xyz[2] / tdm_white_d50[2]);
    lab[0] = 116 * fy - 16;
    lab[1] = 500 * (fx - fy);
    lab[2] = 200 * (fy - fz);
}

void tdm_lab_to_xyz(const double lab[3], double xyz[3])
{
    const double fy = (lab[0] + 16) / 116;
    xyz[0] = tdm_white_d50[0] * backward(fy + lab[1] / 500);
    xyz[1] = tdm_white_d50[1] * backward(fy);
    xyz[2] = tdm_white_d50[2] * backward(fy - lab[2] / 200);
}

/* Cube root of a normal positive float to about 1e-7 without a call, so that loops over it vectorise: the
 * exponent is divided by three in the bits, then two steps of Halley's method. */
static inline float cube_root(float x)
{
    uint32_t bits;
    memcpy(&bits, &x, sizeof bits);
    bits = bits / 3 + 709921077U;
    float y;
    memcpy(&y, &bits, sizeof y);
    for (int i = 0; i < 2; i++) {
        const float cube = y * y * y;
        y = y * (cube + 2 * x) / (2 * cube + x);
    }
    return y;
}

static inline float forward_float(float t)
{
    const float join = (float)(216.0 / 24389.0);
    const float line = ((float)(24389.0 / 27.0) * t + 16.0F) / 116.0F;
    const float root = cube_root(t > join ? t : join);
    return t > join ? root : line;
}

void tdm_xyz_to_lab_many(const float *xyz, float *lab, size_t count)
{
    const float scale[3] = {(float)(1 / 0.9642), 1.0F, (float)(1 / 0.8249)};
    for (size_t i = 0; i < count; i++) {
        const float fx = forward_float(xyz[3 * i] * scale[0]);
        const float fy = forward_float(xyz[3 * i + 1] * scale[1]);
        const float fz = forward_float(xyz[3 * i + 2] * scale[2]);
        lab[3 * i] = 116 * fy - 16;
        lab[3 * i + 1] = 500 * (fx - fy);
        lab[3 * i + 2] = 200 * (fy - fz);
    }
}

double tdm_hue(const double lab[3])
{
    const double degrees = atan2(lab[2], lab[1]) * (180 / 3.14159265358979323846);
    return degrees < 0 ? degrees + 360 : degrees;
}

double tdm_chroma(const double lab[3])
{
    return hypot(lab[1], lab[2]);
}
