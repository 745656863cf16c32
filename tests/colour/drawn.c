/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "colour/drawn.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "suite.h"

camera plain_camera(void)
{
    return (camera){.gain = {1, 1, 1}, .mix = {1, 0, 0, 0, 1, 0, 0, 0, 1}, .power = 1, .seed = 1};
}

double worse(double so_far, double now)
{
    if (isnan(now))
        return INFINITY;
    return now > so_far ? now : so_far;
}

double encode_srgb(double linear)
{
    return linear <= 0.0031308 ? 12.92 * linear : 1.055 * pow(linear, 1 / 2.4) - 0.055;
}

double decode_srgb(double encoded)
{
    return encoded <= 0.04045 ? encoded / 12.92 : pow((encoded + 0.055) / 1.055, 2.4);
}

/* XYZ D50 to linear sRGB: the inverse of sRGB's matrix adapted by Bradford (colour_constants.csv: product of
 * XYZ_to_sRGB_from_primaries and Bradford_D50_to_D65). */
void linear_srgb_from_lab_d50(const double lab[3], double linear[3])
{
    static const double to_d65[9] = {0.9555367, -0.0230602, 0.0632185,  -0.0283154, 1.0099514,
                                     0.0210260, 0.0123088,  -0.0205006, 1.3301947};
    static const double to_rgb[9] = {3.2409699419, -1.5373831776, -0.4986107603, -0.9692436363, 1.8759675015,
                                     0.0415550574, 0.0556300797,  -0.2039769589, 1.0569715142};
    const double f[3] = {(lab[0] + 16) / 116 + lab[1] / 500, (lab[0] + 16) / 116,
                         (lab[0] + 16) / 116 - lab[2] / 200};
    static const double white[3] = {0.96422, 1, 0.82521};
    double xyz[3], d65[3];
    for (int i = 0; i < 3; i++)
        xyz[i] = white[i] * (f[i] > 6.0 / 29 ? f[i] * f[i] * f[i] : (f[i] - 16.0 / 116) * 108 / 841);
    for (int i = 0; i < 3; i++)
        d65[i] = to_d65[3 * i] * xyz[0] + to_d65[3 * i + 1] * xyz[1] + to_d65[3 * i + 2] * xyz[2];
    for (int i = 0; i < 3; i++)
        linear[i] = to_rgb[3 * i] * d65[0] + to_rgb[3 * i + 1] * d65[1] + to_rgb[3 * i + 2] * d65[2];
}

/* Sum of twelve uniform numbers: near enough normal. */
static double noise(uint32_t *seed)
{
    double sum = -6;
    for (int i = 0; i < 12; i++) {
        *seed = *seed * 1664525U + 1013904223U;
        sum += (double)(*seed >> 8) / 16777216.0;
    }
    return sum;
}

void camera_sees(const camera *by, const double linear[3], double encoded[3], uint32_t *seed)
{
    double lit[3];
    for (int i = 0; i < 3; i++)
        lit[i] = by->gain[i] * linear[i];
    for (int i = 0; i < 3; i++) {
        const double *m = by->mix + 3 * i;
        double e = encode_srgb(fmax(m[0] * lit[0] + m[1] * lit[1] + m[2] * lit[2] + by->veil, 0));
        e = pow(fmin(e, 1), by->power);
        e += by->contrast * e * (1 - e) * (2 * e - 1); /* fixes 0, 1/2 and 1; monotone below 1 */
        encoded[i] = fmin(fmax(e + by->noise * noise(seed), 0), 1);
    }
}

static tdm_pixels blank(int bits, uint32_t width, uint32_t height)
{
    tdm_pixels pixels = {.rect = {0, 0, width, height}, .bits = bits};
    if (bits == 8)
        pixels.rgb8 = calloc((size_t)width * height, 3);
    else
        pixels.rgb16 = calloc((size_t)width * height, 6);
    if (!pixels.rgb8 && !pixels.rgb16)
        abort();
    return pixels;
}

void set_pixel(tdm_pixels *pixels, uint32_t x, uint32_t y, const double encoded[3])
{
    const size_t at = 3 * ((size_t)y * pixels->rect.width + x);
    for (size_t c = 0; c < 3; c++) {
        if (pixels->rgb8)
            pixels->rgb8[at + c] = (uint8_t)lround(255 * encoded[c]);
        else
            pixels->rgb16[at + c] = (uint16_t)lround(65535 * encoded[c]);
    }
}

tdm_pixels draw_even(int bits, const double encoded[3], uint32_t width, uint32_t height)
{
    tdm_pixels pixels = blank(bits, width, height);
    for (uint32_t y = 0; y < height; y++) {
        for (uint32_t x = 0; x < width; x++)
            set_pixel(&pixels, x, y, encoded);
    }
    return pixels;
}

/* Patch under a pixel, -1 for gap and surround. */
static int patch_at(uint32_t x, uint32_t y, uint32_t pitch, double margin)
{
    const double u = (x + 0.5 - margin) / pitch, v = (y + 0.5 - margin) / pitch;
    if (u < 0 || v < 0 || u >= 6 || v >= 4 || u - floor(u) >= 0.85 || v - floor(v) >= 0.85)
        return -1;
    return (int)floor(v) * 6 + (int)floor(u);
}

static void set_corners(uint32_t pitch, double margin, double corners[8])
{
    const double right = margin + 5.85 * pitch, bottom = margin + 3.85 * pitch;
    const double at[8] = {margin, margin, right, margin, right, bottom, margin, bottom};
    memcpy(corners, at, sizeof at);
}

tdm_pixels draw_codes(int bits, double codes[PATCHES][3], uint32_t pitch, double corners[8])
{
    static const double surround[3] = {0.1, 0.1, 0.1};
    tdm_pixels pixels = blank(bits, 7 * pitch, 5 * pitch);
    set_corners(pitch, pitch / 2, corners);
    for (uint32_t y = 0; y < pixels.rect.height; y++) {
        for (uint32_t x = 0; x < pixels.rect.width; x++) {
            const int patch = patch_at(x, y, pitch, pitch / 2);
            set_pixel(&pixels, x, y, patch < 0 ? surround : codes[patch]);
        }
    }
    return pixels;
}

tdm_pixels draw_target(int bits, double lab[PATCHES][3], const camera *by, uint32_t pitch, double corners[8])
{
    double linear[PATCHES][3], seen[3];
    static const double surround[3] = {0.01, 0.01, 0.01};
    tdm_pixels pixels = blank(bits, 7 * pitch, 5 * pitch);
    uint32_t seed = by->seed;
    set_corners(pitch, pitch / 2, corners);
    for (int i = 0; i < PATCHES; i++)
        linear_srgb_from_lab_d50(lab[i], linear[i]);
    for (uint32_t y = 0; y < pixels.rect.height; y++) {
        for (uint32_t x = 0; x < pixels.rect.width; x++) {
            const int patch = patch_at(x, y, pitch, pitch / 2);
            camera_sees(by, patch < 0 ? surround : linear[patch], seen, &seed);
            set_pixel(&pixels, x, y, seen);
        }
    }
    return pixels;
}

static size_t read_row(char *line, double *cells, size_t columns)
{
    size_t found = 0;
    for (char *cell = line; cell && found < columns; found++) {
        cells[found] = strtod(cell, NULL);
        cell = strchr(cell, ',');
        cell = cell ? cell + 1 : NULL;
    }
    return found;
}

size_t read_table(const char *name, double *cells, size_t columns, size_t most_rows)
{
    char path[512], line[2048];
    (void)snprintf(path, sizeof path, "%s/colour/%s", TEST_DATA, name);
    FILE *file = fopen(path, "r");
    ck_assert_msg(file != NULL, "%s", path);
    size_t rows = 0;
    while (rows < most_rows && fgets(line, sizeof line, file)) {
        if (line[0] == '#' || isalpha((unsigned char)line[0]))
            continue;
        ck_assert_uint_eq(read_row(line, cells + rows * columns, columns), columns);
        rows++;
    }
    fclose(file);
    return rows;
}
