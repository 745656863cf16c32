/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

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

/* Bytes of the UTF-8 character at the start of text, 0 where there is none (RFC 3629: no overlong forms,
 * surrogates or anything above U+10FFFF). */
static size_t character(const unsigned char *text, size_t length)
{
    static const unsigned least[5] = {0, 0, 0x80, 0x800, 0x10000};
    const unsigned lead = text[0];
    const size_t size = lead < 0x80 ? 1 : lead >> 5 == 6 ? 2 : lead >> 4 == 14 ? 3 : lead >> 3 == 30 ? 4 : 0;
    if (size < 2 || size > length)
        return size <= length ? size : 0;
    unsigned code = lead & (0x7fU >> size);
    for (size_t i = 1; i < size; i++) {
        if (text[i] >> 6 != 2)
            return 0;
        code = code << 6 | (text[i] & 0x3fU);
    }
    return code >= least[size] && code <= 0x10ffff && (code < 0xd800 || code > 0xdfff) ? size : 0;
}

/* Asked here and not of jansson, whose answer is the same for want of memory. */
static bool is_utf8(const char *text, size_t length)
{
    for (size_t i = 0; i < length;) {
        const size_t size = character((const unsigned char *)text + i, length - i);
        if (size == 0)
            return false;
        i += size;
    }
    return true;
}

json_t *tdm_words_json(const char *text)
{
    enum { ROOM = 256 };
    char plain[ROOM];
    const size_t length = strnlen(text, ROOM - 1);
    const bool utf8 = is_utf8(text, length);
    for (size_t i = 0; i < length; i++)
        plain[i] = is_control(text[i]) || ((unsigned char)text[i] >= 0x80 && !utf8) ? '?' : text[i];
    return json_stringn(plain, length);
}
