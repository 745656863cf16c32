/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include "base/utf8.h"
#include "marks/json_walk.h"

static bool is_control(char c)
{
    return (unsigned char)c < 0x20 || c == 0x7f;
}

bool tdm_printable(const char *text)
{
    for (; *text; text++) {
        if (is_control(*text))
            return false;
    }
    return true;
}

json_t *tdm_words_json(const char *text)
{
    enum { ROOM = 256 };
    char plain[ROOM];
    size_t used = 0;
    while (*text) {
        uint32_t point = 0;
        const size_t length = tdm_utf8_decode(text, &point), taken = length > 0 ? length : 1;
        if (used + taken >= ROOM)
            break;
        if (length == 0 || is_control(*text)) {
            plain[used++] = '?';
        } else {
            memcpy(plain + used, text, length);
            used += length;
        }
        text += taken;
    }
    return json_stringn(plain, used);
}
