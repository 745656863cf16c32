/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "photo/png_chunks.h"

#include <string.h>

#include "base/fail.h"

enum { SIGNATURE = 8, NAME = 4, HEAD = 8 /* length and name */, FRAME = 12 /* head and CRC */ };

uint32_t tdm_png_number(const uint8_t bytes[4])
{
    return (uint32_t)bytes[0] << 24 | (uint32_t)bytes[1] << 16 | (uint32_t)bytes[2] << 8 | bytes[3];
}

/* CRC-32 of ISO 3309, as PNG wants it over name and data. Bit by bit: these chunks are small. */
static uint32_t crc32_of(const uint8_t *data, size_t size)
{
    uint32_t crc = UINT32_MAX;
    for (size_t i = 0; i < size; i++) {
        crc ^= data[i];
        for (int bit = 0; bit < 8; bit++)
            crc = crc >> 1 ^ (crc & 1 ? UINT32_C(0xedb88320) : 0);
    }
    return ~crc;
}

static tdm_png_chunk *place_of(tdm_png_chunks *chunks, const uint8_t *name, bool after_pixels)
{
    const struct {
        const char *name;
        tdm_png_chunk *place;
        bool anywhere;
    } rows[] = {
        {"cICP", &chunks->cicp, false}, {"iCCP", &chunks->iccp, false}, {"sRGB", &chunks->srgb, false},
        {"gAMA", &chunks->gama, false}, {"cHRM", &chunks->chrm, false}, {"tRNS", &chunks->trns, false},
        {"eXIf", &chunks->exif, true},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        if (memcmp(name, rows[i].name, NAME) == 0)
            return after_pixels && !rows[i].anywhere ? NULL : rows[i].place;
    }
    return NULL;
}

tdm_code tdm_png_find_chunks(const uint8_t *data, size_t size, const char *name, tdm_png_chunks *out,
                             tdm_error *error)
{
    *out = (tdm_png_chunks){0};
    bool after_pixels = false;
    for (size_t at = SIGNATURE; at <= size && size - at >= FRAME;) {
        const uint8_t *head = data + at;
        const size_t length = tdm_png_number(head);
        if (length > size - at - FRAME)
            break;
        if (memcmp(head + NAME, "IEND", NAME) == 0)
            return TDM_OK;
        after_pixels = after_pixels || memcmp(head + NAME, "IDAT", NAME) == 0;
        tdm_png_chunk *place = place_of(out, head + NAME, after_pixels);
        if (place && !place->found) {
            place->found = true;
            place->data = head + HEAD;
            place->size = length;
            place->sound = crc32_of(head + NAME, NAME + length) == tdm_png_number(head + HEAD + length);
        }
        at += FRAME + length;
    }
    return tdm_fail(error, TDM_ERR_FORMAT, name, NULL,
                    "is damaged or cut short; copy it again from where it came from");
}
