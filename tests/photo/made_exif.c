/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A TIFF block by hand: byte order, 42, IFD 0, EXIF IFD, texts. */
#include <stdlib.h>
#include <string.h>

#include "made.h"

enum { SHORT = 3, ASCII = 2, LONG = 4, EXIF_IFD_AT = 64, TEXT_0_AT = 128, TEXT_1_AT = 160, SIZE = 192 };

typedef struct block {
    uint8_t bytes[SIZE];
    bool big_endian;
    size_t at;
} block;

static void put(block *to, size_t at, unsigned value, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        const size_t shift = 8 * (to->big_endian ? count - 1 - i : i);
        to->bytes[at + i] = (uint8_t)(value >> shift);
    }
}

static void put_entry(block *to, unsigned tag, unsigned type, unsigned count, unsigned value)
{
    put(to, to->at, tag, 2);
    put(to, to->at + 2, type, 2);
    put(to, to->at + 4, count, 4);
    put(to, to->at + 8, value, type == SHORT ? 2 : 4);
    to->at += 12;
}

static void put_text(block *to, unsigned tag, unsigned at, const char *text)
{
    const size_t size = strlen(text) + 1;
    memcpy(to->bytes + at, text, size);
    put_entry(to, tag, ASCII, (unsigned)size, at);
}

static void start_ifd(block *to, size_t at, unsigned entries)
{
    put(to, at, entries, 2);
    to->at = at + 2;
}

made made_exif(const made_exif_plan *plan, bool prefixed)
{
    block tiff = {.big_endian = plan->big_endian};
    memcpy(tiff.bytes, plan->big_endian ? "MM" : "II", 2);
    put(&tiff, 2, 42, 2);
    put(&tiff, 4, 8, 4);
    start_ifd(&tiff, 8, 1u + (plan->orientation ? 1u : 0u) + (plan->date_time ? 1u : 0u));
    if (plan->orientation)
        put_entry(&tiff, 0x0112, SHORT, 1, (unsigned)plan->orientation);
    if (plan->date_time)
        put_text(&tiff, 0x0132, TEXT_0_AT, plan->date_time);
    put_entry(&tiff, 0x8769, LONG, 1, EXIF_IFD_AT);
    start_ifd(&tiff, EXIF_IFD_AT,
              (plan->date_original ? 1u : 0u) + (plan->colour_space ? 1u : 0u) +
                  (plan->focal_35mm ? 1u : 0u));
    if (plan->date_original)
        put_text(&tiff, 0x9003, TEXT_1_AT, plan->date_original);
    if (plan->colour_space)
        put_entry(&tiff, 0xa001, SHORT, 1, (unsigned)plan->colour_space);
    if (plan->focal_35mm)
        put_entry(&tiff, 0xa405, SHORT, 1, (unsigned)plan->focal_35mm);

    const size_t lead = prefixed ? 6 : 0;
    made out = {malloc(lead + SIZE), lead + SIZE};
    if (!out.data)
        abort();
    memcpy(out.data, "Exif\0", lead);
    memcpy(out.data + lead, tiff.bytes, SIZE);
    return out;
}
