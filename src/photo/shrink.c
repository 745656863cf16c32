/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "photo/shrink.h"

#include <stdlib.h>
#include <string.h>

/* The upright squares start at the upright picture's left and top. */
static uint32_t first_side(bool mirrored, uint32_t length, uint32_t factor)
{
    return mirrored && length % factor != 0 ? length % factor : factor;
}

bool tdm_shrink_start(tdm_shrink *shrink, tdm_pixels *pixels, int orientation, uint32_t upright_width,
                      uint32_t upright_height, uint32_t factor, bool wide)
{
    const bool swap = tdm_orient_swaps(orientation);
    /* Where the upright picture's first pixel lies in the stored one tells what is mirrored. */
    const tdm_rect origin =
        tdm_orient_stored(orientation, upright_width, upright_height, (tdm_rect){0, 0, 1, 1});
    *shrink = (tdm_shrink){
        .pixels = pixels,
        .placing = tdm_orient_placing(orientation, pixels->rect.width, pixels->rect.height),
        .width = swap ? upright_height : upright_width,
        .height = swap ? upright_width : upright_height,
        .factor = factor,
        .wide = wide,
        .columns = swap ? pixels->rect.height : pixels->rect.width,
    };
    shrink->first_column = first_side(origin.x > 0, shrink->width, factor);
    shrink->first_row = first_side(origin.y > 0, shrink->height, factor);
    shrink->sums = calloc(shrink->columns, sizeof *shrink->sums);
    shrink->counts = calloc(shrink->columns, sizeof *shrink->counts);
    shrink->opaque = malloc(shrink->columns);
    if (!shrink->sums || !shrink->counts || !shrink->opaque)
        return false;
    memset(shrink->opaque, 1, shrink->columns);
    return true;
}

static uint32_t square_of(uint32_t at, uint32_t first, uint32_t factor)
{
    return at < first ? 0 : 1 + (at - first) / factor;
}

static unsigned sample_at(const uint8_t *samples, int index, bool wide)
{
    return wide ? (unsigned)(samples[2 * index] << 8 | samples[2 * index + 1]) : samples[index];
}

static void add_wide(tdm_shrink *shrink, uint32_t square, const uint8_t *samples, uint32_t count,
                     int channels)
{
    const int step = channels == 1 ? 0 : 1;
    for (uint32_t x = 0; x < count; x++, samples += 2 * channels) {
        for (int k = 0; k < 3; k++)
            shrink->sums[square][k] += sample_at(samples, k * step, true);
        if (channels == 4 && sample_at(samples, 3, true) != 0xffff)
            shrink->opaque[square] = 0;
    }
}

/* Nearly every picture comes this way. */
static void add_narrow(tdm_shrink *shrink, uint32_t square, const uint8_t *samples, uint32_t count,
                       int channels)
{
    const int step = channels == 1 ? 0 : 1;
    uint64_t red = 0, green = 0, blue = 0;
    for (uint32_t x = 0; x < count; x++, samples += channels) {
        red += samples[0];
        green += samples[step];
        blue += samples[2 * step];
        if (channels == 4 && samples[3] != 0xff)
            shrink->opaque[square] = 0;
    }
    shrink->sums[square][0] += red;
    shrink->sums[square][1] += green;
    shrink->sums[square][2] += blue;
}

static void add(tdm_shrink *shrink, const uint8_t *samples, int channels)
{
    uint32_t count = shrink->first_column;
    for (uint32_t square = 0, x = 0; x < shrink->width; square++, count = shrink->factor) {
        if (count > shrink->width - x)
            count = shrink->width - x;
        if (shrink->wide)
            add_wide(shrink, square, samples, count, channels);
        else
            add_narrow(shrink, square, samples, count, channels);
        shrink->counts[square] += count;
        samples += (size_t)count * (size_t)channels * (shrink->wide ? 2 : 1);
        x += count;
    }
}

static void put(tdm_shrink *shrink, uint32_t row)
{
    const uint64_t unit = shrink->wide ? 257 : 1;
    ptrdiff_t at = shrink->placing.start + (ptrdiff_t)row * shrink->placing.down;
    for (uint32_t i = 0; i < shrink->columns; i++, at += shrink->placing.along) {
        const uint64_t count = shrink->counts[i] * unit;
        for (int k = 0; k < 3; k++)
            shrink->pixels->rgb8[3 * at + k] = (uint8_t)((shrink->sums[i][k] + count / 2) / count);
        if (shrink->pixels->opaque)
            shrink->pixels->opaque[at] = shrink->opaque[i];
    }
    memset(shrink->sums, 0, shrink->columns * sizeof *shrink->sums);
    memset(shrink->counts, 0, shrink->columns * sizeof *shrink->counts);
    memset(shrink->opaque, 1, shrink->columns);
}

void tdm_shrink_row(tdm_shrink *shrink, uint32_t row, const uint8_t *samples, int channels)
{
    const uint32_t square = square_of(row, shrink->first_row, shrink->factor);
    add(shrink, samples, channels);
    if (row + 1 == shrink->height || square_of(row + 1, shrink->first_row, shrink->factor) != square)
        put(shrink, square);
}

void tdm_shrink_free(tdm_shrink *shrink)
{
    free(shrink->sums);
    free(shrink->counts);
    free(shrink->opaque);
}
