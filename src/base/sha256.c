/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/sha256.h"

#include <nettle/base16.h>
#include <nettle/sha2.h>

void tdm_sha256_hex(const uint8_t *data, size_t size, char hex[65])
{
    struct sha256_ctx context;
    uint8_t digest[SHA256_DIGEST_SIZE];
    sha256_init(&context);
    sha256_update(&context, size, data);
    sha256_digest(&context, sizeof digest, digest);
    base16_encode_update(hex, sizeof digest, digest);
    hex[64] = '\0';
}
