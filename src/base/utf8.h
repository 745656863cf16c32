/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TDM_BASE_UTF8_H
#define TDM_BASE_UTF8_H

#include <stddef.h>
#include <stdint.h>

/* Length in bytes of the well-formed sequence at string (Unicode 15.0, table 3-7), its code point in *point;
 * 0 where it isn't well-formed. string is terminated. */
size_t tdm_utf8_decode(const char *string, uint32_t *point);

#endif
