/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "colour/spectra.h"

#include <math.h>
#include <string.h>

#include "suite.h"

const char *const light_names[LIGHTS] = {"D50", "D65", "2900 K"};

static double nanometres(int band)
{
    return FIRST_NM + STEP_NM * band;
}

static void load_patches(spectra *out)
{
    enum { ROWS = 81, COLUMNS = PATCHES + 1 };
    static double cells[ROWS + 1][COLUMNS];
    const size_t rows = read_table("target24_spectra_ohta1997.csv", &cells[0][0], COLUMNS, ROWS + 1);
    size_t found = 0;
    for (size_t i = 0; i < rows; i++) {
        const double band = (cells[i][0] - FIRST_NM) / STEP_NM;
        if (band < 0 || band >= BANDS || fabs(band - round(band)) > 1e-9)
            continue;
        for (int p = 0; p < PATCHES; p++)
            out->patch[p][(int)round(band)] = cells[i][1 + p];
        found++;
    }
    ck_assert_uint_eq(found, BANDS);
}

/* CIE 15: daylight of a chromaticity from its three components. */
static void daylight(double cells[BANDS + 1][7], double x, double y, double out[BANDS])
{
    const double m = 0.0241 + 0.2562 * x - 0.7341 * y;
    const double m1 = (-1.3515 - 1.7703 * x + 5.9114 * y) / m, m2 = (0.0300 - 31.4424 * x + 30.0717 * y) / m;
    for (int i = 0; i < BANDS; i++)
        out[i] = cells[i][4] + m1 * cells[i][5] + m2 * cells[i][6];
}

void spectra_load(spectra *out)
{
    double observer[BANDS + 1][7], cameras[BANDS + 1][1 + 3 * CAMERAS];
    ck_assert_uint_eq(read_table("observer_and_daylight.csv", &observer[0][0], 7, BANDS + 1), BANDS);
    ck_assert_uint_eq(read_table("camera_sensitivities.csv", &cameras[0][0], 1 + 3 * CAMERAS, BANDS + 1),
                      BANDS);
    load_patches(out);
    for (int i = 0; i < BANDS; i++) {
        for (int c = 0; c < 3; c++)
            out->observer[c][i] = observer[i][1 + c];
        for (int k = 0; k < 3 * CAMERAS; k++)
            out->sensitivity[k / 3][k % 3][i] = cameras[i][1 + k];
        out->light[2][i] = pow(nanometres(i), -5) / (exp(1.4388e7 / (nanometres(i) * 2900)) - 1);
    }
    daylight(observer, 0.3457, 0.3585, out->light[0]);
    daylight(observer, 0.3127, 0.3290, out->light[1]);
}

/* Absorption falls as powers of the wavelength (melanin_absorption.csv: Donner and Jensen 2006), to d'Eon's
 * 0.697 and 0.4 at 550 nm; the mass by the inversion of Chiang et al. 2016 over a surface of L* 16. */
void hair_spectrum(double concentration, double pheomelanin, double out[BANDS])
{
    for (int i = 0; i < BANDS; i++) {
        const double ratio = nanometres(i) / 550;
        const double sigma = concentration * ((1 - pheomelanin) * 0.697 * pow(ratio, -3.33) +
                                              pheomelanin * 0.4 * pow(ratio, -4.75));
        out[i] = 0.02099 + (1 - 0.02099) * exp(-5.88841475 * sqrt(sigma));
    }
}

static double response(const double *sensitivity, const double *light, const double *reflectance)
{
    double sum = 0, white = 0;
    for (int i = 0; i < BANDS; i++) {
        sum += sensitivity[i] * light[i] * reflectance[i];
        white += sensitivity[i] * light[i];
    }
    return sum / white;
}

void spectrum_lab(const spectra *from, const double reflectance[BANDS], double lab[3])
{
    double f[3];
    for (int c = 0; c < 3; c++) {
        const double t = response(from->observer[c], from->light[0], reflectance);
        f[c] = t > 216.0 / 24389 ? cbrt(t) : (24389.0 / 27 * t + 16) / 116;
    }
    lab[0] = 116 * f[1] - 16;
    lab[1] = 500 * (f[0] - f[1]);
    lab[2] = 200 * (f[1] - f[2]);
}

void spectrum_rgb(const spectra *from, int which, int light, const double reflectance[BANDS], double rgb[3])
{
    for (int c = 0; c < 3; c++)
        rgb[c] = response(from->sensitivity[which][c], from->light[light], reflectance);
}
