/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TESTS_FUZZ_PHOTO_INPUT_H
#define TESTS_FUZZ_PHOTO_INPUT_H

#include <stddef.h>
#include <stdint.h>

/* Opens the bytes as a photograph, reads the whole and a part, and ends the program where a promise of
 * photo.h is broken. */
void fuzz_photo(const uint8_t *data, size_t size);

#endif
