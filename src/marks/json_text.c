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

json_t *tdm_words_json(const char *text)
{
    enum { ROOM = 256 };
    char plain[ROOM];
    const size_t length = strnlen(text, ROOM - 1);
    json_t *whole = json_stringn(text, length);
    const bool utf8 = whole != NULL;
    json_decref(whole);
    for (size_t i = 0; i < length; i++)
        plain[i] = is_control(text[i]) || ((unsigned char)text[i] >= 0x80 && !utf8) ? '?' : text[i];
    return json_stringn(plain, length);
}
