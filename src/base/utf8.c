/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/utf8.h"

size_t tdm_utf8_decode(const char *string, uint32_t *point)
{
    const unsigned char *at = (const unsigned char *)string;
    if (at[0] < 0x80) {
        *point = at[0];
        return 1;
    }
    const size_t length = at[0] >= 0xF0 ? 4 : at[0] >= 0xE0 ? 3 : 2;
    static const uint32_t least[] = {0, 0, 0x80, 0x800, 0x10000};
    if (at[0] < 0xC2 || at[0] > 0xF4)
        return 0;
    uint32_t value = at[0] & (0xFFu >> (length + 1));
    for (size_t i = 1; i < length; i++) {
        if ((at[i] & 0xC0) != 0x80)
            return 0;
        value = value << 6 | (at[i] & 0x3F);
    }
    if (value < least[length] || value > 0x10FFFF || (value >= 0xD800 && value <= 0xDFFF))
        return 0;
    *point = value;
    return length;
}
