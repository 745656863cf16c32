/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/plain.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

/* Length in bytes of the well-formed sequence at string (Unicode 15.0, table 3-7), its code point in *point;
 * 0 where it isn't well-formed. */
static size_t decode(const char *string, uint32_t *point)
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

void tdm_add_valid(tdm_text *text, const char *string)
{
    while (*string) {
        uint32_t point = 0;
        const size_t length = decode(string, &point);
        if (length == 0)
            tdm_text_add(text, "\xEF\xBF\xBD");
        else
            tdm_text_add_bytes(text, string, length);
        string += length ? length : 1;
    }
}

static bool is_control(uint32_t point)
{
    return point < 0x20 || (point >= 0x7F && point < 0xA0) || point == 0x2028 || point == 0x2029 ||
           (point >= 0x202A && point <= 0x202E) || (point >= 0x2066 && point <= 0x2069);
}

void tdm_add_printable(tdm_text *text, const char *string, bool unicode)
{
    while (*string) {
        uint32_t point = 0;
        const size_t length = decode(string, &point);
        if (length == 0 && unicode)
            tdm_text_add(text, "\xEF\xBF\xBD");
        else if (length == 0 || is_control(point) || (point > 0x7E && !unicode))
            tdm_text_add(text, "?");
        else
            tdm_text_add_bytes(text, string, length);
        string += length ? length : 1;
    }
}

size_t tdm_columns(const char *string, size_t bytes)
{
    size_t columns = 0;
    for (size_t i = 0; i < bytes; i++)
        columns += ((unsigned char)string[i] & 0xC0) != 0x80;
    return columns;
}

void tdm_add_short(tdm_text *text, double value)
{
    enum { SIGNIFICANT = 6, MOST_DECIMALS = 12 };
    const double size = fabs(value);
    int decimals = size > 0 && isfinite(size) ? SIGNIFICANT - 1 - (int)floor(log10(size)) : 0;
    decimals = decimals < 0 ? 0 : decimals > MOST_DECIMALS ? MOST_DECIMALS : decimals;
    tdm_text number = {0};
    tdm_text_number(&number, value, decimals, "");
    if (number.data && strchr(number.data, '.')) {
        while (number.data[number.size - 1] == '0')
            number.size--;
        if (number.data[number.size - 1] == '.')
            number.size--;
    }
    tdm_text_add_bytes(text, number.data ? number.data : "", number.size);
    text->failed = text->failed || number.failed;
    tdm_text_free(&number);
}
