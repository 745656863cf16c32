/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "photo_input.h"

#include <stdlib.h>
#include <string.h>

#include "photo/photo.h"

static void demand(bool promise)
{
    if (!promise)
        abort();
}

static void demand_about(const tdm_photo_info *info)
{
    demand(info->width > 0 && info->height > 0);
    demand(info->bits == 8 || info->bits == 16);
    demand(info->orientation >= 1 && info->orientation <= 8);
    demand(strlen(info->taken) == 0 || strlen(info->taken) == 19);
    demand((info->colour == TDM_COLOUR_ICC) == (info->icc != NULL));
    demand(info->colour_fault.code == TDM_OK ||
           (info->colour == TDM_COLOUR_UNSTATED && info->colour_fault.text[0] != '\0'));
    demand((info->colour == TDM_COLOUR_GAMMA) == (info->gamma > 0.0));
}

/* Touches every byte, for the sanitizers. */
static unsigned sum(const tdm_pixels *pixels)
{
    const size_t count = (size_t)pixels->rect.width * pixels->rect.height;
    unsigned total = 0;
    for (size_t i = 0; i < 3 * count; i++)
        total += pixels->bits == 16 ? pixels->rgb16[i] : pixels->rgb8[i];
    for (size_t i = 0; pixels->opaque && i < count; i++) {
        demand(pixels->opaque[i] <= 1);
        total += pixels->opaque[i];
    }
    return total;
}

static bool same_row(const tdm_pixels *whole, const tdm_pixels *part, uint32_t row)
{
    const size_t from = (size_t)(part->rect.y + row) * whole->rect.width + part->rect.x;
    const size_t to = (size_t)row * part->rect.width, count = part->rect.width;
    if (whole->bits == 16)
        return memcmp(whole->rgb16 + 3 * from, part->rgb16 + 3 * to, 6 * count) == 0;
    return memcmp(whole->rgb8 + 3 * from, part->rgb8 + 3 * to, 3 * count) == 0;
}

/* A part of a picture that can be read whole can be read, and gives the same pixels. */
static void read_part(tdm_photo *photo, const tdm_pixels *whole, size_t seed)
{
    const uint32_t width = whole->rect.width, height = whole->rect.height;
    tdm_rect rect = {(uint32_t)(seed * 7 % width), (uint32_t)(seed * 13 % height), 0, 0};
    rect.width = 1 + (width - rect.x - 1) / 2;
    rect.height = 1 + (height - rect.y - 1) / 2;
    tdm_pixels part;
    tdm_error error;
    demand(tdm_photo_read(photo, rect, &part, &error) == TDM_OK);
    for (uint32_t row = 0; row < rect.height; row++)
        demand(same_row(whole, &part, row));
    tdm_pixels_free(&part);
}

void fuzz_photo(const uint8_t *data, size_t size)
{
    tdm_limits limits = tdm_limits_default();
    limits.pixels = 1 << 20;
    limits.icc_bytes = 1 << 16;
    limits.scans = 20;
    tdm_warnings warnings = {0};
    tdm_photo *photo = NULL;
    tdm_error error = {0};
    const tdm_code code = tdm_photo_open_memory(data, size, "fuzz", &limits, &warnings, &photo, &error);
    demand(code == TDM_OK || (photo == NULL && error.code == code && error.text[0] != '\0'));
    if (code == TDM_OK) {
        const tdm_photo_info *info = tdm_photo_about(photo);
        tdm_pixels pixels;
        demand_about(info);
        if (tdm_photo_read(photo, (tdm_rect){0, 0, info->width, info->height}, &pixels, &error) == TDM_OK) {
            static volatile unsigned sink;
            sink = sum(&pixels);
            (void)sink;
            read_part(photo, &pixels, size);
            tdm_pixels_free(&pixels);
        }
        tdm_photo_close(photo);
    }
    tdm_warnings_free(&warnings);
}
