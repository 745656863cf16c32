/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A PNG file, as it is and with its chunks' checksums made right, since hardly any change gets past those. */
#include <stdlib.h>
#include <string.h>

#include "photo_input.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static uint32_t checksum(const uint8_t *data, size_t size)
{
    uint32_t crc = UINT32_MAX;
    for (size_t i = 0; i < size; i++) {
        crc ^= data[i];
        for (int bit = 0; bit < 8; bit++)
            crc = crc >> 1 ^ (crc & 1 ? UINT32_C(0xedb88320) : 0);
    }
    return ~crc;
}

static size_t big_endian(const uint8_t *bytes)
{
    return (size_t)bytes[0] << 24 | (size_t)bytes[1] << 16 | (size_t)bytes[2] << 8 | bytes[3];
}

static void mend(uint8_t *data, size_t size)
{
    for (size_t at = 8; at <= size && size - at >= 12;) {
        const size_t length = big_endian(data + at);
        if (length > size - at - 12)
            return;
        const uint32_t crc = checksum(data + at + 4, 4 + length);
        for (size_t i = 0; i < 4; i++)
            data[at + 8 + length + i] = (uint8_t)(crc >> (24 - 8 * i));
        at += 12 + length;
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    fuzz_photo(data, size);
    uint8_t *mended = size > 0 ? malloc(size) : NULL;
    if (mended) {
        memcpy(mended, data, size);
        mend(mended, size);
        fuzz_photo(mended, size);
        free(mended);
    }
    return 0;
}
