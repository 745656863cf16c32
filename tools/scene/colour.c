/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "light.h"

/* ICC profile connection space white (D50). */
static const double white[3] = {0.9642, 1.0, 0.8249};

static double lab_curve(double t)
{
    return t > 216.0 / 24389.0 ? cbrt(t) : (24389.0 / 27.0 * t + 16.0) / 116.0;
}

static double lab_curve_back(double f)
{
    return f > 6.0 / 29.0 ? f * f * f : (116.0 * f - 16.0) * 27.0 / 24389.0;
}

scn_lab scn_lab_of(scn_xyz xyz)
{
    const double x = lab_curve(xyz.v[0] / white[0]), y = lab_curve(xyz.v[1] / white[1]);
    const double z = lab_curve(xyz.v[2] / white[2]);
    return (scn_lab){{116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)}};
}

scn_xyz scn_xyz_of(scn_lab lab)
{
    const double y = (lab.v[0] + 16.0) / 116.0;
    return (scn_xyz){{white[0] * lab_curve_back(y + lab.v[1] / 500.0), white[1] * lab_curve_back(y),
                      white[2] * lab_curve_back(y - lab.v[2] / 200.0)}};
}

scn_xyz scn_neutral(double lstar)
{
    return scn_xyz_of((scn_lab){{lstar, 0, 0}});
}

double scn_lstar_of_level(double level)
{
    return 16.0 * pow(66.0 / 16.0, (level - 1.0) / 9.0);
}

double scn_level_of(double lstar)
{
    return 1.0 + 9.0 * log(fmax(lstar, 1e-6) / 16.0) / log(66.0 / 16.0);
}

/* Linear sRGB (IEC 61966-2-1 primaries) and Display P3 (SMPTE EG 432-1 primaries, D65) to XYZ,
 * Bradford-adapted to D50. */
static const double srgb_to_xyz[3][3] = {
    {0.4360747, 0.3850649, 0.1430804}, {0.2225045, 0.7168786, 0.0606169}, {0.0139322, 0.0971045, 0.7141733}};
static const double p3_to_xyz[3][3] = {
    {0.5151187, 0.2919778, 0.1571035}, {0.2411892, 0.6922441, 0.0665668}, {-0.0010505, 0.0418791, 0.7840713}};

static scn_xyz xyz_of_srgb(const double rgb[3])
{
    scn_xyz out;
    for (int i = 0; i < 3; i++)
        out.v[i] = srgb_to_xyz[i][0] * rgb[0] + srgb_to_xyz[i][1] * rgb[1] + srgb_to_xyz[i][2] * rgb[2];
    return out;
}

/* Absorption per unit of concentration (d'Eon et al. 2011), reflectance of the mass by the inversion of
   Chiang et al. 2016 with azimuthal roughness 0.3, over a neutral surface floor of L* 16. */
static scn_lab melanin_mass(double concentration, double warmth)
{
    static const double eumelanin[3] = {0.419, 0.697, 1.37}, pheomelanin[3] = {0.187, 0.4, 1.05};
    const double depth = 5.88841475, floor_y = 0.02099;
    double rgb[3];
    for (int i = 0; i < 3; i++) {
        const double sigma = concentration * ((1 - warmth) * eumelanin[i] + warmth * pheomelanin[i]);
        rgb[i] = floor_y + (1 - floor_y) * exp(-depth * sqrt(sigma));
    }
    return scn_lab_of(xyz_of_srgb(rgb));
}

scn_lab scn_melanin(double level, double warmth)
{
    const double wanted = scn_lstar_of_level(level);
    double low = log(1e-6), high = log(200.0);
    for (int i = 0; i < 80; i++) {
        const double middle = 0.5 * (low + high);
        if (melanin_mass(exp(middle), warmth).v[0] > wanted)
            low = middle;
        else
            high = middle;
    }
    scn_lab lab = melanin_mass(exp(low), warmth);
    lab.v[0] = wanted; /* below the model's floor, level 1, only the lightness still falls */
    return lab;
}

void scn_device_matrix(scn_profile profile, double m[3][3])
{
    const double(*a)[3] = profile == SCN_DISPLAY_P3 ? p3_to_xyz : srgb_to_xyz;
    double to_xyz[3][3];
    memcpy(to_xyz, a, sizeof to_xyz);
    (void)scn_invert(to_xyz, m); /* primaries that differ */
}
