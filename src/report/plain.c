/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/plain.h"

#include <math.h>
#include <string.h>

#include "base/utf8.h"

void tdm_add_valid(tdm_text *text, const char *string)
{
    while (*string) {
        uint32_t point = 0;
        const size_t length = tdm_utf8_decode(string, &point);
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
        const size_t length = tdm_utf8_decode(string, &point);
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
