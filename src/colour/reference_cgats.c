/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lines and words of CGATS.17 text. In place: nothing is allocated, each byte is looked at a bounded number
 * of times. */
#include <math.h>
#include <stdarg.h>
#include <stdio.h>

#include "base/fail.h"
#include "colour/reference_parts.h"

tdm_code tdm_cgats_fail(const tdm_cgats *in, unsigned line, const char *format, ...)
{
    char place[32], text[400];
    va_list arguments;
    va_start(arguments, format);
    (void)vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    (void)snprintf(place, sizeof place, "line %u", line);
    return tdm_fail(in->error, TDM_ERR_FORMAT, in->file, place, "%s", text);
}

static bool blank(char c)
{
    return c == ' ' || c == '\t' || c == '\v' || c == '\f';
}

/* Ends with a line feed, a carriage return, or both. */
static tdm_span take_line(tdm_cgats *in)
{
    tdm_span line = {.at = in->next};
    while (in->next < in->end && *in->next != '\n' && *in->next != '\r')
        in->next++;
    line.size = (size_t)(in->next - line.at);
    if (in->next < in->end && *in->next++ == '\r' && in->next < in->end && *in->next == '\n')
        in->next++;
    in->line++;
    return line;
}

/* at is on the opening quote; NULL where there is no other on the line. */
static const char *quoted(const char *at, const char *end, tdm_span *word)
{
    word->at = ++at;
    while (at < end && *at != '"')
        at++;
    word->size = (size_t)(at - word->at);
    return at < end ? at + 1 : NULL;
}

static const char *bare(const char *at, const char *end, tdm_span *word)
{
    word->at = at;
    while (at < end && !blank(*at) && *at != '"' && *at != '#')
        at++;
    word->size = (size_t)(at - word->at);
    return at;
}

static tdm_code split(tdm_cgats *in)
{
    const char *at = in->text.at, *end = at + in->text.size;
    in->count = 0;
    for (;;) {
        while (at < end && blank(*at))
            at++;
        if (at == end || *at == '#')
            return TDM_OK;
        if (*at == '\0')
            return tdm_cgats_fail(in, in->line, "has a zero byte; it isn't plain text");
        if (in->count == TDM_CGATS_COLUMNS)
            return tdm_cgats_fail(in, in->line, "has more than %d entries", TDM_CGATS_COLUMNS);
        tdm_span *word = &in->words[in->count++];
        at = *at == '"' ? quoted(at, end, word) : bare(at, end, word);
        if (!at)
            return tdm_cgats_fail(in, in->line, "has a quote that isn't closed");
    }
}

tdm_code tdm_cgats_line(tdm_cgats *in)
{
    in->count = 0;
    while (in->count == 0 && in->next < in->end) {
        in->text = take_line(in);
        const tdm_code code = split(in);
        if (code != TDM_OK)
            return code;
    }
    return TDM_OK;
}

static char lower(char c)
{
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

bool tdm_span_is(tdm_span span, const char *word)
{
    size_t i = 0;
    while (i < span.size && word[i] && lower(span.at[i]) == lower(word[i]))
        i++;
    return i == span.size && !word[i];
}

static bool digit(char c)
{
    return c >= '0' && c <= '9';
}

bool tdm_span_count(tdm_span span, unsigned *out)
{
    unsigned value = 0;
    if (span.size == 0 || span.size > 6)
        return false;
    for (size_t i = 0; i < span.size; i++) {
        if (!digit(span.at[i]))
            return false;
        value = 10 * value + (unsigned)(span.at[i] - '0');
    }
    *out = value;
    return true;
}

/* The exponent after an e; the last character must end it. */
static bool exponent(const char *at, const char *end, int *out)
{
    const bool negative = at < end && *at == '-';
    unsigned value = 0;
    if (at < end && (*at == '-' || *at == '+'))
        at++;
    if (!tdm_span_count((tdm_span){at, (size_t)(end - at)}, &value) || value > 99)
        return false;
    *out = negative ? -(int)value : (int)value;
    return true;
}

bool tdm_span_number(tdm_span span, double *out)
{
    const char *at = span.at, *end = at + span.size;
    const bool negative = at < end && *at == '-';
    double digits = 0;
    int scale = 0, power = 0;
    bool any = false, point = false;
    if (at < end && (*at == '-' || *at == '+'))
        at++;
    for (; at < end && (digit(*at) || ((*at == '.' || *at == ',') && !point)); at++) {
        if (!digit(*at)) {
            point = true;
            continue;
        }
        any = true;
        digits = 10 * digits + (*at - '0');
        scale -= point;
    }
    if (!any || span.size > 64)
        return false;
    if (at < end && ((*at != 'e' && *at != 'E') || !exponent(at + 1, end, &power)))
        return false;
    power += scale;
    const double value = power < 0 ? digits / pow(10, -power) : digits * pow(10, power);
    *out = negative ? -value : value;
    return isfinite(value);
}
