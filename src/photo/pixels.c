/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "photo/decoder.h"
#include "photo/shrink.h"

tdm_code tdm_pixels_create(const tdm_photo_info *info, tdm_rect rect, const char *name, tdm_pixels *out,
                           tdm_error *error)
{
    const size_t count = (size_t)rect.width * rect.height;
    tdm_pixels pixels = {.rect = rect, .bits = info->bits};
    if (count > (size_t)-1 / 8)
        return tdm_fail_memory(error, name);
    if (info->bits == 16)
        pixels.rgb16 = malloc(count * 3 * sizeof *pixels.rgb16);
    else
        pixels.rgb8 = malloc(count * 3);
    if (info->has_alpha)
        pixels.opaque = malloc(count);
    if ((!pixels.rgb8 && !pixels.rgb16) || (info->has_alpha && !pixels.opaque)) {
        tdm_pixels_free(&pixels);
        return tdm_fail_memory(error, name);
    }
    *out = pixels;
    return TDM_OK;
}

static void put8(const tdm_sink *sink, ptrdiff_t at, const uint8_t *samples, int channels)
{
    const int step = channels == 1 ? 0 : 1;
    for (int k = 0; k < 3; k++)
        sink->pixels->rgb8[3 * at + k] = samples[k * step];
    if (sink->pixels->opaque)
        sink->pixels->opaque[at] = channels < 4 || samples[3] == 0xff;
}

static uint16_t big_endian(const uint8_t *bytes)
{
    return (uint16_t)(bytes[0] << 8 | bytes[1]);
}

static void put16(const tdm_sink *sink, ptrdiff_t at, const uint8_t *samples, int channels)
{
    const int step = channels == 1 ? 0 : 2;
    for (int k = 0; k < 3; k++)
        sink->pixels->rgb16[3 * at + k] = big_endian(samples + k * step);
    if (sink->pixels->opaque)
        sink->pixels->opaque[at] = channels < 4 || big_endian(samples + 6) == 0xffff;
}

void tdm_sink_row(const tdm_sink *sink, uint32_t row, const uint8_t *samples, int channels)
{
    if (sink->shrink) {
        tdm_shrink_row(sink->shrink, row, samples, channels);
        return;
    }
    const bool wide = sink->pixels->bits == 16;
    const size_t pixel_size = (size_t)channels * (wide ? 2 : 1);
    ptrdiff_t at = sink->placing.start + (ptrdiff_t)row * sink->placing.down;
    for (uint32_t x = 0; x < sink->stored.width; x++) {
        if (wide)
            put16(sink, at, samples, channels);
        else
            put8(sink, at, samples, channels);
        at += sink->placing.along;
        samples += pixel_size;
    }
}

void tdm_pixels_settle(tdm_pixels *pixels)
{
    const size_t count = (size_t)pixels->rect.width * pixels->rect.height;
    if (!pixels->opaque || memchr(pixels->opaque, 0, count))
        return;
    free(pixels->opaque);
    pixels->opaque = NULL;
}

void tdm_pixels_free(tdm_pixels *pixels)
{
    free(pixels->rgb8);
    free(pixels->rgb16);
    free(pixels->opaque);
    *pixels = (tdm_pixels){0};
}
