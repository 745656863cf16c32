/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <png.h>
#include <stdlib.h>
#include <string.h>

#include "made.h"

static void append(png_structp coder, png_bytep data, size_t size)
{
    made *to = png_get_io_ptr(coder);
    uint8_t *grown = realloc(to->data, to->size + size);
    if (!grown)
        abort();
    memcpy(grown + to->size, data, size);
    to->data = grown;
    to->size += size;
}

static void flush(png_structp coder)
{
    (void)coder;
}

static void put_sample(uint8_t *row, size_t index, int depth, unsigned value)
{
    if (depth == 16) {
        row[2 * index] = (uint8_t)(value >> 8);
        row[2 * index + 1] = (uint8_t)value;
        return;
    }
    const size_t bit = index * (size_t)depth;
    const unsigned shift = 8u - (unsigned)depth - (unsigned)(bit % 8);
    row[bit / 8] = (uint8_t)(row[bit / 8] | value << shift);
}

static uint8_t *packed_rows(const made_png_plan *plan, size_t channels, size_t stride)
{
    uint8_t *rows = calloc(plan->height, stride);
    if (!rows)
        abort();
    for (unsigned y = 0; y < plan->height; y++) {
        for (unsigned x = 0; x < plan->width; x++) {
            for (size_t k = 0; k < channels; k++)
                put_sample(rows + y * stride, x * channels + k, plan->depth, plan->sample(x, y, (int)k));
        }
    }
    return rows;
}

static void write_parts(png_structp coder, const made_png_plan *plan, bool after_pixels)
{
    for (size_t i = 0; i < plan->part_count; i++) {
        const made_part *part = &plan->parts[i];
        if (part->after_pixels == after_pixels)
            png_write_chunk(coder, (png_const_bytep)part->name, part->data, part->size);
    }
}

static void write_pixels(png_structp coder, png_infop info, const made_png_plan *plan)
{
    const size_t channels = png_get_channels(coder, info), stride = png_get_rowbytes(coder, info);
    uint8_t *rows = packed_rows(plan, channels, stride);
    png_bytep *starts = malloc(plan->height * sizeof *starts);
    if (!starts)
        abort();
    for (unsigned y = 0; y < plan->height; y++)
        starts[y] = rows + y * stride;
    png_write_image(coder, starts);
    free(starts);
    free(rows);
}

made made_png(const made_png_plan *plan)
{
    made out = {0};
    png_structp coder = png_create_write_struct(PNG_LIBPNG_VER_STRING, NULL, NULL, NULL);
    png_infop info = png_create_info_struct(coder);
    if (!info || setjmp(png_jmpbuf(coder)))
        abort();
    png_set_write_fn(coder, &out, append, flush);
    png_set_check_for_invalid_index(coder, 0); /* some are wanted wrong */
    if (plan->level)
        png_set_compression_level(coder, plan->level - 1);
    png_set_user_limits(coder, PNG_UINT_31_MAX, PNG_UINT_31_MAX);
    png_set_IHDR(coder, info, plan->width, plan->height, plan->depth, plan->type,
                 plan->interlaced ? PNG_INTERLACE_ADAM7 : PNG_INTERLACE_NONE, PNG_COMPRESSION_TYPE_DEFAULT,
                 PNG_FILTER_TYPE_DEFAULT);
    if (plan->palette)
        png_set_PLTE(coder, info, (png_const_colorp)plan->palette, plan->palette_count);
    png_write_info(coder, info);
    write_parts(coder, plan, false);
    write_pixels(coder, info, plan);
    write_parts(coder, plan, true);
    png_write_end(coder, NULL);
    png_destroy_write_struct(&coder, &info);
    return out;
}
