/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/text.h"

#include <locale.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static bool reserve(tdm_text *text, size_t more)
{
    if (text->failed || more > (size_t)-1 / 4 || text->size > (size_t)-1 / 4) {
        text->failed = true;
        return false;
    }
    const size_t need = text->size + more + 1;
    if (need <= text->room)
        return true;
    const size_t room = need < 256 ? 256 : 2 * need;
    char *data = realloc(text->data, room);
    if (!data) {
        text->failed = true;
        return false;
    }
    text->data = data;
    text->room = room;
    return true;
}

void tdm_text_add_bytes(tdm_text *text, const char *bytes, size_t count)
{
    if (!reserve(text, count))
        return;
    if (count > 0)
        memcpy(text->data + text->size, bytes, count);
    text->size += count;
    text->data[text->size] = '\0';
}

void tdm_text_add(tdm_text *text, const char *string)
{
    tdm_text_add_bytes(text, string, strlen(string));
}

void tdm_text_format(tdm_text *text, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    const int length = vsnprintf(NULL, 0, format, arguments);
    va_end(arguments);
    if (length < 0 || !reserve(text, (size_t)length)) {
        text->failed = true;
        return;
    }
    va_start(arguments, format);
    (void)vsnprintf(text->data + text->size, (size_t)length + 1, format, arguments);
    va_end(arguments);
    text->size += (size_t)length;
}

/* The decimal sign of the caller's locale, which may be several bytes, becomes a full stop. */
static void plain_decimal_sign(char *number)
{
    const char *sign = localeconv()->decimal_point;
    char *found = sign[0] && strcmp(sign, ".") != 0 ? strstr(number, sign) : NULL;
    if (!found)
        return;
    *found = '.';
    const char *rest = found + strlen(sign);
    memmove(found + 1, rest, strlen(rest) + 1);
}

static bool all_zero(const char *number)
{
    return number[strcspn(number, "123456789")] == '\0';
}

void tdm_text_number(tdm_text *text, double value, int digits, const char *missing)
{
    char number[400];
    if (!isfinite(value)) {
        tdm_text_add(text, missing);
        return;
    }
    (void)snprintf(number, sizeof number, "%.*f", digits, value);
    plain_decimal_sign(number);
    tdm_text_add(text, number[0] == '-' && all_zero(number) ? number + 1 : number);
}

void tdm_text_free(tdm_text *text)
{
    free(text->data);
    *text = (tdm_text){0};
}
