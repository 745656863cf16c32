/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The camera: uneven light, exposure, sensor, white balance, blur, noise, encoding, tone curve, orientation.
 */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "drawing.h"
#include "light.h"

enum { CURVE_STEPS = 16384 };

/* A slope across the picture and a fall towards its corners; 1 in the middle. */
static double light_at(const scn_scene *scene, double x, double y)
{
    const double u = x / (double)scene->width - 0.5, v = y / (double)scene->height - 0.5;
    return 1 - scene->camera.uneven * (0.5 * u + 0.25 * v + 0.5 * 2 * (u * u + v * v));
}

typedef struct {
    float m[2][3][3]; /* device from XYZ under the main lamp; what the second lamp alone would add to that */
    bool mixed;
    float share, share_x, share_y; /* of the second lamp at the top left corner, and what a px adds */
} lens;

static void without_spectra(const scn_scene *scene, double gain, lens *out)
{
    double m[3][3];
    scn_device_matrix(scene->camera.profile, m);
    for (int i = 0; i < 3; i++)
        for (int j = 0; j < 3; j++)
            out->m[0][i][j] = (float)(m[i][j] * gain * scene->camera.white_balance[i]);
}

/* Sensor values under each lamp, white balance, the maker's matrix, output primaries. */
static void with_spectra(const scn_scene *scene, double gain, lens *out)
{
    double device[3][3], from_sensor[3][3], whole[2][3][3];
    scn_light light;
    scn_light_make(&light, scene);
    scn_device_matrix(scene->camera.profile, device);
    scn_multiply(device, light.to_xyz, from_sensor);
    for (int lamp = 0; lamp < 2; lamp++) {
        double sensor[3][3];
        for (int c = 0; c < 3; c++)
            for (int i = 0; i < 3; i++)
                sensor[c][i] = light.lamps[lamp].of_xyz[c][i] * scene->camera.white_balance[c] * gain;
        scn_multiply(from_sensor, sensor, whole[lamp]);
    }
    for (int i = 0; i < 3; i++) {
        for (int j = 0; j < 3; j++) {
            out->m[0][i][j] = (float)whole[0][i][j];
            out->m[1][i][j] = (float)(whole[1][i][j] - whole[0][i][j]);
        }
    }
    const double w = (double)scene->width, h = (double)scene->height, share = scn_light_share(scene, 0, 0);
    out->mixed = scene->second_share[0] > 0 || scene->second_share[1] > 0;
    out->share = (float)share;
    out->share_x = (float)((scn_light_share(scene, w, 0) - share) / w);
    out->share_y = (float)((scn_light_share(scene, 0, h) - share) / h);
}

static void to_device(scn_image *image, const scn_scene *scene)
{
    lens l = {.mixed = false};
    const double gain = exp2(scene->camera.exposure_ev);
    if (scene->spectral)
        with_spectra(scene, gain, &l);
    else
        without_spectra(scene, gain, &l);
    for (size_t y = 0; y < image->height; y++) {
        for (size_t x = 0; x < image->width; x++) {
            float *p = image->xyz + 3 * (y * image->width + x), in[3];
            const float light = (float)light_at(scene, (double)x + 0.5, (double)y + 0.5);
            const float share = l.share + l.share_x * ((float)x + 0.5f) + l.share_y * ((float)y + 0.5f);
            memcpy(in, p, sizeof in);
            for (int i = 0; i < 3; i++) {
                const float *a = l.m[0][i], *b = l.m[1][i];
                p[i] = light * (a[0] * in[0] + a[1] * in[1] + a[2] * in[2]);
                if (l.mixed)
                    p[i] += light * share * (b[0] * in[0] + b[1] * in[1] + b[2] * in[2]);
            }
        }
    }
}

/* sRGB transfer (IEC 61966-2-1), then an S curve about the middle. */
static void curve_of(double tone, float curve[CURVE_STEPS + 2])
{
    for (size_t i = 0; i < CURVE_STEPS + 2; i++) {
        /* The table's argument is the square root of light, so that darks get their share of steps. */
        const double root = fmin(1, (double)i / CURVE_STEPS), v = root * root;
        const double e = v <= 0.0031308 ? 12.92 * v : 1.055 * pow(v, 1 / 2.4) - 0.055;
        curve[i] = (float)(e + tone * 0.8 * e * (1 - e) * (2 * e - 1));
    }
}

static uint16_t encode(float light, const float *curve, float dither, float steps)
{
    const float place = sqrtf(light < 0 ? 0 : light > 1 ? 1 : light) * CURVE_STEPS;
    const size_t i = (size_t)place;
    const float e = curve[i] + (place - (float)i) * (curve[i + 1] - curve[i]);
    const float level = floorf(e * steps + dither);
    return (uint16_t)(level > steps ? steps : level);
}

/* Shot noise grows with the root of light; read noise is even. Roughly normal: a sum of four uniform draws.
 */
static float noise_at(scn_random *random, float light, float amount)
{
    const uint32_t a = scn_random_bits(random), b = scn_random_bits(random);
    const float sum = (float)(a & 0xffff) + (float)(a >> 16) + (float)(b & 0xffff) + (float)(b >> 16);
    const float normal = (sum / 65536.0f - 2.0f) * 1.7320508f;
    return amount * normal * sqrtf(4e-6f + 4e-4f * (light > 0 ? light : 0));
}

bool scn_camera_take(scn_image *image, const scn_scene *scene, uint16_t **samples)
{
    const size_t count = 3 * image->width * image->height;
    const float steps = scene->camera.bits == 16 ? 65535 : 255, amount = (float)scene->camera.noise;
    float *curve = malloc((CURVE_STEPS + 2) * sizeof *curve);
    *samples = malloc(count * sizeof **samples);
    to_device(image, scene);
    const bool good = curve && *samples && scn_blur(image, &scene->camera);
    if (good) {
        scn_random random = scn_random_start(scene->seed, 47);
        curve_of(scene->camera.tone, curve);
        for (size_t i = 0; i < count; i++) {
            const float light = image->xyz[i];
            (*samples)[i] =
                encode(amount > 0 ? light + noise_at(&random, light, amount) : light, curve, 0.5f, steps);
        }
    }
    free(curve);
    return good || scn_fail("size", "out of memory");
}

/* Where the stored sample (x, y) lies in the upright picture of w x h (Exif orientation). */
static size_t upright_at(int orientation, size_t x, size_t y, size_t w, size_t h)
{
    const bool flip_x = orientation == 2 || orientation == 3 || orientation == 6 || orientation == 7;
    const bool flip_y = orientation == 3 || orientation == 4 || orientation == 7 || orientation == 8;
    const size_t u = orientation >= 5 ? y : x, v = orientation >= 5 ? x : y;
    return (flip_y ? h - 1 - v : v) * w + (flip_x ? w - 1 - u : u);
}

uint16_t *scn_camera_store(const uint16_t *upright, int orientation, size_t *width, size_t *height)
{
    const size_t w = *width, h = *height, sw = orientation >= 5 ? h : w, sh = orientation >= 5 ? w : h;
    uint16_t *stored = malloc(3 * w * h * sizeof *stored);
    for (size_t y = 0; stored && y < sh; y++)
        for (size_t x = 0; x < sw; x++)
            memcpy(stored + 3 * (y * sw + x), upright + 3 * upright_at(orientation, x, y, w, h),
                   3 * sizeof *stored);
    *width = sw;
    *height = sh;
    return stored;
}
