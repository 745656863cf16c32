/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/drawn_target.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "suite.h"

enum { FINE = 3 /* samples a pixel, each way */, TAPS = 25 };
static const double patch_side = 0.85, gap_light = 0.015;

/* Light of the patches: any will do that differ from the gaps and from each other. */
static double light_of(int column, int row)
{
    static const double lights[24] = {0.10, 0.36, 0.19, 0.13, 0.24, 0.43, 0.31, 0.11, 0.19, 0.07, 0.45, 0.44,
                                      0.06, 0.23, 0.12, 0.60, 0.19, 0.19, 0.90, 0.59, 0.36, 0.19, 0.09, 0.03};
    return lights[row * 6 + column];
}

void place_block(double x, double y, double pitch, double degrees, double corners[8])
{
    static const double at[8] = {-0.5, -0.5, 0.5, -0.5, 0.5, 0.5, -0.5, 0.5};
    const double c = cos(degrees * acos(-1) / 180), s = sin(degrees * acos(-1) / 180);
    for (int i = 0; i < 4; i++) {
        const double u = at[2 * i] * 5.85 * pitch, v = at[2 * i + 1] * 3.85 * pitch;
        corners[2 * i] = x + c * u - s * v;
        corners[2 * i + 1] = y + s * u + c * v;
    }
}

/* Where a picture's place lies on the block: the bilinear map's inverse does for a parallelogram. */
static double surface(const drawing *how, double x, double y)
{
    const double *c = how->corners;
    const double ax = c[2] - c[0], ay = c[3] - c[1], bx = c[6] - c[0], by = c[7] - c[1];
    const double det = ax * by - ay * bx, px = x - c[0], py = y - c[1];
    const double u = (px * by - py * bx) / det * 5.85, v = (ax * py - ay * px) / det * 3.85;
    const double column = floor(u), row = floor(v);
    const double in_u = u - column, in_v = v - row;
    if (column < 0 || column > 5 || row < 0 || row > 3 || in_u > patch_side || in_v > patch_side)
        return gap_light;
    const double edge_u = fmin(in_u, patch_side - in_u), edge_v = fmin(in_v, patch_side - in_v);
    if (edge_u < how->round && edge_v < how->round)
        return gap_light;
    return light_of((int)column, (int)row);
}

static double encode(double linear)
{
    return linear <= 0.0031308 ? 12.92 * linear : 1.055 * pow(linear, 1 / 2.4) - 0.055;
}

static double normal(uint32_t *seed)
{
    double sum = -6;
    for (int i = 0; i < 12; i++) {
        *seed = *seed * 1664525U + 1013904223U;
        sum += (double)(*seed >> 8) / 16777216.0;
    }
    return sum;
}

/* A plane of samples, FINE a pixel each way. */
typedef struct plane {
    size_t width, height;
    float *light;
} plane;

static plane blank(const drawing *how)
{
    plane out = {.width = FINE * (size_t)how->width, .height = FINE * (size_t)how->height};
    out.light = calloc(out.width * out.height, sizeof *out.light);
    ck_assert_ptr_nonnull(out.light);
    return out;
}

/* Mean over TAPS places along a line through each sample, weighted: dx, dy in samples from one to the next.
 */
static void smear(plane *image, double dx, double dy, const double weights[TAPS])
{
    plane out = *image;
    out.light = calloc(image->width * image->height, sizeof *out.light);
    ck_assert_ptr_nonnull(out.light);
    for (size_t y = 0; y < image->height; y++) {
        for (size_t x = 0; x < image->width; x++) {
            double sum = 0;
            for (int k = 0; k < TAPS; k++) {
                const double px =
                    fmin(fmax((double)x + (k - TAPS / 2) * dx, 0), (double)image->width - 1.001);
                const double py =
                    fmin(fmax((double)y + (k - TAPS / 2) * dy, 0), (double)image->height - 1.001);
                const size_t ix = (size_t)px, iy = (size_t)py;
                const double fx = px - (double)ix, fy = py - (double)iy;
                const float *at = image->light + iy * image->width + ix;
                sum += weights[k] *
                       ((1 - fy) * ((1 - fx) * (double)at[0] + fx * (double)at[1]) +
                        fy * ((1 - fx) * (double)at[image->width] + fx * (double)at[image->width + 1]));
            }
            out.light[y * image->width + x] = (float)sum;
        }
    }
    free(image->light);
    *image = out;
}

/* A blur of any covariance is one along x, then one along a slant. */
static void blur(plane *image, const double covariance[3])
{
    const double yy = covariance[2], slope = yy > 0 ? covariance[1] / yy : 0;
    const double across = sqrt(fmax(covariance[0] - slope * covariance[1], 0)) * FINE, down = sqrt(yy) * FINE;
    const double step = 0.25; /* of a standard deviation: 12 taps reach 3 */
    double weights[TAPS], sum = 0, square = 0;
    for (int k = 0; k < TAPS; k++)
        sum += weights[k] = exp(-0.5 * pow((k - TAPS / 2) * step, 2));
    for (int k = 0; k < TAPS; k++) {
        weights[k] /= sum;
        square += weights[k] * pow((k - TAPS / 2) * step, 2);
    }
    const double unit = step / sqrt(square); /* the cut tails made up for */
    if (across > 0)
        smear(image, across * unit, 0, weights);
    if (down > 0)
        smear(image, slope * down * unit, down * unit, weights);
}

static void move(plane *image, double length, double degrees)
{
    double weights[TAPS];
    const double step = length * FINE / sqrt(TAPS * TAPS - 1.0); /* variance of the taps: length² / 12 */
    for (int k = 0; k < TAPS; k++)
        weights[k] = 1.0 / TAPS;
    if (length > 0)
        smear(image, step * cos(degrees * acos(-1) / 180), -step * sin(degrees * acos(-1) / 180), weights);
}

static void expose(const drawing *how, const plane *image, tdm_pixels *out)
{
    uint32_t seed = 7;
    for (size_t y = 0; y < how->height; y++) {
        for (size_t x = 0; x < how->width; x++) {
            double sum = 0;
            for (size_t k = 0; k < FINE * FINE; k++)
                sum += (double)image->light[(FINE * y + k / FINE) * image->width + FINE * x + k % FINE];
            const double level = 65535 * encode(sum / (FINE * FINE)) + 257 * how->noise * normal(&seed);
            for (size_t c = 0; c < 3; c++)
                out->rgb16[3 * (y * how->width + x) + c] = (uint16_t)lround(fmin(fmax(level, 0), 65535));
        }
    }
}

void draw(const drawing *how, drawn_photo *out)
{
    plane image = blank(how);
    for (size_t y = 0; y < image.height; y++) {
        for (size_t x = 0; x < image.width; x++)
            image.light[y * image.width + x] =
                (float)surface(how, ((double)x + 0.5) / FINE, ((double)y + 0.5) / FINE);
    }
    blur(&image, how->blur);
    move(&image, how->smear, how->degrees);

    tdm_error error = {0};
    tdm_warnings warnings = {0};
    *out = (drawn_photo){.pixels = {.rect = {0, 0, how->width, how->height}, .bits = 16}};
    out->info = (tdm_photo_info){
        .format = "PNG", .width = how->width, .height = how->height, .bits = 16, .colour = TDM_COLOUR_SRGB};
    out->pixels.rgb16 = calloc((size_t)how->width * how->height, 6);
    ck_assert_ptr_nonnull(out->pixels.rgb16);
    expose(how, &image, &out->pixels);
    free(image.light);
    ck_assert_int_eq(tdm_device_create(&out->info, false, "drawn", &warnings, &out->device, &error), TDM_OK);
    tdm_warnings_free(&warnings);
    out->calibration = tdm_calibration_none(out->device);
    out->input = (tdm_quality_input){.device = out->device,
                                     .pixels = &out->pixels,
                                     .photo = &out->info,
                                     .marks = &out->marks,
                                     .calibration = &out->calibration,
                                     .mm_per_px = NAN};
}

void drawn_free(drawn_photo *photo)
{
    tdm_pixels_free(&photo->pixels);
    tdm_device_free(photo->device);
}
