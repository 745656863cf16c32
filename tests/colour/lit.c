/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "colour/lit.h"

#include <math.h>
#include <string.h>

#include "colour/lab.h"
#include "suite.h"

const double hair_lab[HAIR][3] = {{16, 0.3, 0.2}, {18, 0, -0.9}, {20, 4, 5},   {22.5, 4, 5}, {26, 6, 11},
                                  {30, 6, 15},    {35, 6, 17},   {41, 6, 19},  {48, 5, 20},  {56, 4, 20},
                                  {66, 3, 17},    {75, 2, 14},   {40, 18, 25}, {60, 8, 32}};

void published_lab(char edition, double lab[PATCHES][3])
{
    double cells[PATCHES + 1][11];
    ck_assert_uint_eq(read_table("target24_lab_d50.csv", &cells[0][0], 11, PATCHES + 1), PATCHES);
    for (int i = 0; i < PATCHES; i++)
        memcpy(lab[i], cells[i] + (edition == 'A' ? 4 : 7), sizeof lab[i]);
}

double lot(uint32_t *seed)
{
    *seed = *seed * 1664525U + 1013904223U;
    return (double)(*seed >> 8) / 16777216.0;
}

double lot_normal(uint32_t *seed)
{
    double sum = -6;
    for (int i = 0; i < 12; i++)
        sum += lot(seed);
    return sum;
}

camera camera_by_lot(uint32_t seed)
{
    camera by = plain_camera();
    uint32_t state = seed * 2654435761U + 1;
    (void)lot(&state);
    const double exposure = 0.35 + 0.35 * lot(&state);
    for (int i = 0; i < 3; i++) {
        by.gain[i] = exposure * (0.75 + 0.25 * lot(&state));
        double off = 0;
        for (int k = 0; k < 3; k++) {
            if (k == i)
                continue;
            by.mix[3 * i + k] = 0.2 * lot(&state);
            off += by.mix[3 * i + k];
        }
        by.mix[4 * i] = 1 - off;
    }
    by.contrast = -0.2 + 0.6 * lot(&state);
    by.power = 0.9 + 0.25 * lot(&state);
    by.veil = 0.003 * lot(&state);
    by.noise = 0.004 + 0.012 * lot(&state);
    by.seed = seed;
    return by;
}

/* x and y in pixels from the target's middle. */
static double light_at(const lighting *light, double x, double y, double pitch)
{
    const double into = light->edge[0] * x / pitch + light->edge[1] * y / pitch - light->edge[2];
    const double soft = fmax(light->penumbra, 1e-9);
    const double share = fmin(fmax(into / soft + 0.5, 0), 1);
    return exp2(light->slope[0] * x + light->slope[1] * y - light->shadow * share);
}

tdm_pixels draw_lit(int bits, double lab[PATCHES][3], const camera *by, const lighting *light, uint32_t pitch,
                    double corners[8])
{
    tdm_pixels pixels = draw_target(bits, lab, by, pitch, corners); /* for its size and corners */
    double linear[PATCHES][3];
    uint32_t seed = by->seed;
    for (int i = 0; i < PATCHES; i++)
        linear_srgb_from_lab_d50(lab[i], linear[i]);
    for (uint32_t y = 0; y < pixels.rect.height; y++) {
        for (uint32_t x = 0; x < pixels.rect.width; x++) {
            const double u = (x + 0.5 - corners[0]) / pitch, v = (y + 0.5 - corners[1]) / pitch;
            if (u < 0 || v < 0 || u >= 6 || v >= 4 || u - floor(u) >= 0.85 || v - floor(v) >= 0.85)
                continue;
            const double lit = light_at(light, x + 0.5 - (corners[0] + corners[4]) / 2,
                                        y + 0.5 - (corners[1] + corners[5]) / 2, pitch);
            const double *surface = linear[(int)v * 6 + (int)u];
            const double seen[3] = {lit * surface[0], lit * surface[1], lit * surface[2]};
            double encoded[3];
            camera_sees(by, seen, encoded, &seed);
            set_pixel(&pixels, x, y, encoded);
        }
    }
    return pixels;
}

void see_hair(const tdm_device *device, const tdm_calibration *calibration, const camera *by,
              const double hair[3], double lab[3])
{
    camera quiet = *by;
    uint32_t seed = 1;
    double linear[3], encoded[3];
    float xyz[3];
    quiet.noise = 0;
    linear_srgb_from_lab_d50(hair, linear);
    camera_sees(&quiet, linear, encoded, &seed);
    const float rgb[3] = {(float)encoded[0], (float)encoded[1], (float)encoded[2]};
    tdm_device_to_xyz(device, rgb, xyz, 1);
    tdm_calibration_apply(calibration, xyz, 1);
    const double in[3] = {(double)xyz[0], (double)xyz[1], (double)xyz[2]};
    tdm_xyz_to_lab(in, lab);
}

double hair_miss(const tdm_device *device, const tdm_calibration *calibration, const camera *by)
{
    double sum = 0;
    for (int i = 0; i < HAIR; i++) {
        double lab[3];
        see_hair(device, calibration, by, hair_lab[i], lab);
        sum += tdm_de00(hair_lab[i], lab) / HAIR;
    }
    return sum;
}
