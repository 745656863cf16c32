/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <jpeglib.h>

#include "made.h"

unsigned made_busy(unsigned x, unsigned y, int channel)
{
    uint32_t noise = (x * 374761393u + y * 668265263u + (unsigned)channel * 2246822519u) ^ 0x5bd1e995u;
    noise = (noise ^ (noise >> 13)) * 1274126177u;
    const unsigned smooth = (x * 3 + y * 2 * (unsigned)(channel + 1)) % 160;
    const unsigned edge = ((x / 11 + y / 7 + (unsigned)channel) & 1) * 60;
    return smooth + edge + (noise >> 16) % 36;
}

unsigned made_flat(unsigned x, unsigned y, int channel)
{
    (void)x;
    (void)y;
    static const unsigned flat[] = {200, 50, 100, 0};
    return flat[channel];
}

static int channels_of(made_colours colours)
{
    static const int channels[] = {1, 3, 3, 4, 4, 2};
    return channels[colours];
}

static void set_colours(struct jpeg_compress_struct *coder, made_colours colours)
{
    static const J_COLOR_SPACE in[] = {JCS_GRAYSCALE, JCS_RGB, JCS_RGB, JCS_CMYK, JCS_CMYK, JCS_UNKNOWN};
    static const J_COLOR_SPACE kept[] = {JCS_GRAYSCALE, JCS_YCbCr, JCS_RGB, JCS_CMYK, JCS_YCCK, JCS_UNKNOWN};
    coder->input_components = channels_of(colours);
    coder->in_color_space = in[colours];
    jpeg_set_defaults(coder);
    jpeg_set_colorspace(coder, kept[colours]);
}

static void write_rows(struct jpeg_compress_struct *coder, const made_jpeg_plan *plan)
{
    const int channels = coder->input_components;
    JSAMPLE *row = malloc((size_t)plan->width * (size_t)channels);
    if (!row)
        abort();
    for (unsigned y = 0; y < plan->height; y++) {
        for (unsigned x = 0; x < plan->width; x++) {
            for (int k = 0; k < channels; k++)
                row[x * (unsigned)channels + (unsigned)k] = (JSAMPLE)plan->sample(x, y, k);
        }
        (void)jpeg_write_scanlines(coder, &row, 1);
    }
    free(row);
}

made made_jpeg(const made_jpeg_plan *plan)
{
    struct jpeg_compress_struct coder;
    struct jpeg_error_mgr errors;
    unsigned char *data = NULL;
    unsigned long size = 0;
    const jpeg_scan_info one_each[] = {{1, {0}, 0, 63, 0, 0}, {1, {1}, 0, 63, 0, 0}, {1, {2}, 0, 63, 0, 0}};
    coder.err = jpeg_std_error(&errors); /* ends the test on an error */
    jpeg_create_compress(&coder);
    jpeg_mem_dest(&coder, &data, &size);
    coder.image_width = plan->width;
    coder.image_height = plan->height;
    set_colours(&coder, plan->colours);
    jpeg_set_quality(&coder, plan->quality ? plan->quality : 90, TRUE);
    coder.comp_info[0].h_samp_factor = plan->across ? plan->across : 1;
    coder.comp_info[0].v_samp_factor = plan->down ? plan->down : 1;
    coder.restart_interval = (unsigned)plan->restart;
    if (plan->progressive)
        jpeg_simple_progression(&coder);
    if (plan->separate) {
        coder.scan_info = one_each;
        coder.num_scans = 3;
    }
    jpeg_start_compress(&coder, TRUE);
    for (size_t i = 0; i < plan->part_count; i++)
        jpeg_write_marker(&coder, plan->parts[i].code, plan->parts[i].data, (unsigned)plan->parts[i].size);
    write_rows(&coder, plan);
    jpeg_finish_compress(&coder);
    jpeg_destroy_compress(&coder);
    return (made){data, size};
}

uint8_t *made_jpeg_reference(made jpeg)
{
    struct jpeg_decompress_struct decoder;
    struct jpeg_error_mgr errors;
    decoder.err = jpeg_std_error(&errors);
    jpeg_create_decompress(&decoder);
    jpeg_mem_src(&decoder, jpeg.data, (unsigned long)jpeg.size);
    (void)jpeg_read_header(&decoder, TRUE);
    decoder.out_color_space = JCS_RGB;
    decoder.dct_method = JDCT_ISLOW;
    (void)jpeg_start_decompress(&decoder);
    const size_t stride = (size_t)decoder.output_width * 3;
    uint8_t *pixels = malloc(stride * decoder.output_height);
    if (!pixels)
        abort();
    while (decoder.output_scanline < decoder.output_height) {
        JSAMPROW row = pixels + stride * decoder.output_scanline;
        (void)jpeg_read_scanlines(&decoder, &row, 1);
    }
    (void)jpeg_finish_decompress(&decoder);
    jpeg_destroy_decompress(&decoder);
    return pixels;
}
