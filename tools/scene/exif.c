/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include "scene.h"

static void put(unsigned char **at, unsigned long value, int bytes)
{
    for (int i = 0; i < bytes; i++)
        *(*at)++ = (unsigned char)(value >> (8 * i) & 0xff);
}

static void entry(unsigned char **at, unsigned long tag, unsigned long type, unsigned long count,
                  unsigned long value)
{
    put(at, tag, 2);
    put(at, type, 2);
    put(at, count, 4);
    put(at, value, 4);
}

/* Little-endian TIFF: one directory with orientation, and where the time is given an Exif directory with it.
 */
size_t scn_exif_bytes(int orientation, const char *taken, unsigned char bytes[SCN_EXIF_MOST])
{
    const unsigned long first = 8, second = first + 2 + 2 * 12 + 4, text = second + 2 + 12 + 4;
    unsigned char *at = bytes;
    memset(bytes, 0, SCN_EXIF_MOST);
    put(&at, 0x4949, 2);
    put(&at, 42, 2);
    put(&at, first, 4);
    put(&at, taken ? 2 : 1, 2);
    entry(&at, 0x0112, 3, 1, (unsigned long)orientation);
    if (taken)
        entry(&at, 0x8769, 4, 1, second);
    put(&at, 0, 4);
    if (!taken)
        return (size_t)(at - bytes);
    put(&at, 1, 2);
    entry(&at, 0x9003, 2, 20, text);
    put(&at, 0, 4);
    memcpy(at, taken, 19);
    return (size_t)text + 20;
}
