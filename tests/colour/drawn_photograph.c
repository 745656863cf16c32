/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <jpeglib.h>

#include "colour/drawn_scene.h"

/* Along one axis; the border goes on outside. */
static void blur_lines(canvas *c, double sigma, bool down)
{
    const int reach = (int)ceil(3 * sigma), length = (int)(down ? c->height : c->width);
    const uint32_t lines = down ? c->width : c->height;
    double weights[64], sum = 0;
    float *line = malloc(3 * (size_t)length * sizeof *line);
    if (!line || 2 * reach + 1 > 64)
        abort();
    for (int i = -reach; i <= reach; i++)
        sum += weights[i + reach] = exp(-i * i / (2 * sigma * sigma));
    for (uint32_t at = 0; at < lines; at++) {
        for (int i = 0; i < length; i++)
            memcpy(line + 3 * i, down ? canvas_pixel(c, at, (uint32_t)i) : canvas_pixel(c, (uint32_t)i, at),
                   3 * sizeof *line);
        for (int i = 0; i < length; i++) {
            float *to = down ? canvas_pixel(c, at, (uint32_t)i) : canvas_pixel(c, (uint32_t)i, at);
            for (int k = 0; k < 3; k++) {
                double mean = 0;
                for (int o = -reach; o <= reach; o++) {
                    const int from = i + o < 0 ? 0 : i + o >= length ? length - 1 : i + o;
                    mean += weights[o + reach] * (double)line[3 * from + k];
                }
                to[k] = (float)(mean / sum);
            }
        }
    }
    free(line);
}

static void write_row(const canvas *c, const camera *by, uint32_t y, uint32_t *seed, uint8_t *row)
{
    for (uint32_t x = 0; x < c->width; x++) {
        const float *at = canvas_pixel(c, x, y);
        const double linear[3] = {(double)at[0], (double)at[1], (double)at[2]};
        double encoded[3];
        camera_sees(by, linear, encoded, seed);
        for (int k = 0; k < 3; k++)
            row[3 * x + (uint32_t)k] = (uint8_t)lround(255 * encoded[k]);
    }
}

uint8_t *take_photograph(canvas *c, const camera *by, double blur, int quality, size_t *size)
{
    struct jpeg_compress_struct coder;
    struct jpeg_error_mgr errors;
    unsigned char *bytes = NULL;
    unsigned long length = 0;
    uint32_t seed = by->seed;
    uint8_t *row = malloc(3 * (size_t)c->width);
    if (!row)
        abort();
    if (blur > 0) {
        blur_lines(c, blur, false);
        blur_lines(c, blur, true);
    }
    coder.err = jpeg_std_error(&errors);
    jpeg_create_compress(&coder);
    jpeg_mem_dest(&coder, &bytes, &length);
    coder.image_width = c->width;
    coder.image_height = c->height;
    coder.input_components = 3;
    coder.in_color_space = JCS_RGB;
    jpeg_set_defaults(&coder);
    jpeg_set_quality(&coder, quality, TRUE);
    coder.comp_info[0].h_samp_factor = coder.comp_info[0].v_samp_factor = quality < 90 ? 2 : 1;
    jpeg_start_compress(&coder, TRUE);
    for (uint32_t y = 0; y < c->height; y++) {
        write_row(c, by, y, &seed, row);
        (void)jpeg_write_scanlines(&coder, &row, 1);
    }
    jpeg_finish_compress(&coder);
    jpeg_destroy_compress(&coder);
    free(row);
    *size = length;
    return bytes;
}
