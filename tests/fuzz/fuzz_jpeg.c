/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A JPEG file, from its first byte. */
#include "photo_input.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    fuzz_photo(data, size);
    return 0;
}
