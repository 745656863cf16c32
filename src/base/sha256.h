/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TDM_BASE_SHA256_H
#define TDM_BASE_SHA256_H

#include <stddef.h>
#include <stdint.h>

/* Lower-case hex digest (FIPS 180-4), terminated. */
void tdm_sha256_hex(const uint8_t *data, size_t size, char hex[65]);

#endif
