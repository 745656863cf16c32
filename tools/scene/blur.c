/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "drawing.h"

enum { MOST_REACH = 64 };

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
static bool focus(scn_image *image, double sigma)
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

/* Light at a place between pixels; the picture's edge is drawn on. */
static void add_between(const scn_image *image, const float *light, double x, double y, float weight,
                        float *out)
{
    const double cx = fmin(fmax(x, 0), (double)image->width - 1),
                 cy = fmin(fmax(y, 0), (double)image->height - 1);
    const size_t i = (size_t)cx, j = (size_t)cy;
    const size_t right = i + 1 < image->width ? 3 : 0, under = j + 1 < image->height ? 3 * image->width : 0;
    const float a = (float)(cx - (double)i), b = (float)(cy - (double)j);
    const float *p = light + 3 * (j * image->width + i), *q = p + under;
    for (size_t k = 0; k < 3; k++)
        out[k] += weight *
                  ((1 - b) * ((1 - a) * p[k] + a * p[right + k]) + b * ((1 - a) * q[k] + a * q[right + k]));
}

/* The mean along a line of the given length: the camera moved evenly while it took the picture. */
static bool motion(scn_image *image, const scn_camera *camera)
{
    const size_t count = 3 * image->width * image->height;
    const size_t steps = (size_t)ceil(camera->motion_px) + 1;
    if (camera->motion_px <= 0)
        return true;
    float *still = malloc(count * sizeof *still);
    if (!still)
        return scn_fail("camera.motion_px", "out of memory");
    memcpy(still, image->xyz, count * sizeof *still);
    const double angle = camera->motion_deg * 3.14159265358979323846 / 180;
    memset(image->xyz, 0, count * sizeof *still);
    for (size_t y = 0; y < image->height; y++) {
        for (size_t s = 0; s < steps; s++) {
            /* Middles of equal pieces of the line. */
            const double along = camera->motion_px * (((double)s + 0.5) / (double)steps - 0.5);
            const double dx = along * cos(angle), dy = along * sin(angle);
            for (size_t x = 0; x < image->width; x++)
                add_between(image, still, (double)x + dx, (double)y + dy, 1 / (float)steps,
                            image->xyz + 3 * (y * image->width + x));
        }
    }
    free(still);
    return true;
}

bool scn_blur(scn_image *image, const scn_camera *camera)
{
    return focus(image, camera->blur_px) && motion(image, camera);
}
