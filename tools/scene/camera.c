/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The camera: uneven light, exposure, white balance, blur, noise, encoding, tone curve, orientation. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "drawing.h"

enum { CURVE_STEPS = 16384, MOST_REACH = 64 };

/* A slope across the picture and a fall towards its corners; 1 in the middle. */
static double light_at(const scn_scene *scene, double x, double y)
{
    const double u = x / (double)scene->width - 0.5, v = y / (double)scene->height - 0.5;
    return 1 - scene->camera.uneven * (0.5 * u + 0.25 * v + 0.5 * 2 * (u * u + v * v));
}

static void to_device(scn_image *image, const scn_scene *scene)
{
    double m[3][3];
    scn_device_matrix(scene->camera.profile, m);
    const double gain = exp2(scene->camera.exposure_ev);
    float f[3][3];
    for (int i = 0; i < 3; i++)
        for (int j = 0; j < 3; j++)
            f[i][j] = (float)(m[i][j] * gain * scene->camera.white_balance[i]);
    for (size_t y = 0; y < image->height; y++) {
        for (size_t x = 0; x < image->width; x++) {
            float *p = image->xyz + 3 * (y * image->width + x), in[3];
            const float light = (float)light_at(scene, (double)x + 0.5, (double)y + 0.5);
            memcpy(in, p, sizeof in);
            for (int i = 0; i < 3; i++)
                p[i] = light * (f[i][0] * in[0] + f[i][1] * in[1] + f[i][2] * in[2]);
        }
    }
}

static size_t kernel_of(double sigma, float kernel[2 * MOST_REACH + 1])
{
    const size_t reach = (size_t)fmin(MOST_REACH, ceil(3 * sigma));
    double sum = 0;
    for (size_t i = 0; i <= 2 * reach; i++)
        sum += exp(-0.5 * pow(((double)i - (double)reach) / sigma, 2));
    for (size_t i = 0; i <= 2 * reach; i++)
        kernel[i] = (float)(exp(-0.5 * pow(((double)i - (double)reach) / sigma, 2)) / sum);
    return reach;
}

static void blur_row(const float *row, float *out, size_t width, const float *kernel, size_t reach)
{
    memset(out, 0, width * 3 * sizeof *out);
    for (size_t k = 0; k <= 2 * reach; k++) {
        for (size_t x = 0; x < width; x++) {
            const size_t sum = x + k, from = sum < reach ? 0 : sum - reach < width ? sum - reach : width - 1;
            for (size_t c = 0; c < 3; c++)
                out[3 * x + c] += kernel[k] * row[3 * from + c];
        }
    }
}

/* Rows are blurred across into a ring, then down; the picture's edge is drawn on. */
static bool blur(scn_image *image, double sigma)
{
    float kernel[2 * MOST_REACH + 1];
    if (sigma < 0.05)
        return true;
    const size_t reach = kernel_of(sigma, kernel), rows = 2 * reach + 1, length = 3 * image->width;
    float *ring = malloc(rows * length * sizeof *ring);
    if (!ring)
        return scn_fail("camera.blur_px", "out of memory");
    size_t filled = 0;
    for (size_t y = 0; y < image->height; y++) {
        for (; filled <= y + reach && filled < image->height; filled++)
            blur_row(image->xyz + filled * length, ring + filled % rows * length, image->width, kernel,
                     reach);
        float *out = image->xyz + y * length;
        memset(out, 0, length * sizeof *out);
        for (size_t k = 0; k < rows; k++) {
            const size_t sum = y + k, from = sum < reach                   ? 0
                                             : sum - reach < image->height ? sum - reach
                                                                           : image->height - 1;
            const float *row = ring + from % rows * length;
            for (size_t i = 0; i < length; i++)
                out[i] += kernel[k] * row[i];
        }
    }
    free(ring);
    return true;
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
    const bool good = curve && *samples && blur(image, scene->camera.blur_px);
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
