/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "message.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

/* A line is put together first, so that lines of programs that share a terminal don't mix. */
typedef struct line {
    char text[4096];
    size_t size;
} line;

static void put_bytes(line *it, const char *bytes, size_t count)
{
    if (count >= sizeof it->text - 1 - it->size)
        return;
    memcpy(it->text + it->size, bytes, count);
    it->size += count;
}

/* Bytes of the printable character at the start, 0 where it is a control character or not UTF-8. */
static size_t printable(const unsigned char *at)
{
    if (at[0] < 0x80)
        return at[0] >= 0x20 && at[0] != 0x7F;
    const size_t length = at[0] >= 0xF0 && at[0] <= 0xF4  ? 4
                          : at[0] >= 0xE0 && at[0] < 0xF0 ? 3
                          : at[0] >= 0xC2 && at[0] < 0xE0 ? 2
                                                          : 0;
    for (size_t i = 1; i < length; i++) {
        if ((at[i] & 0xC0) != 0x80)
            return 0;
    }
    return at[0] == 0xC2 && at[1] < 0xA0 ? 0 : length; /* C1 controls */
}

static void put(line *it, const char *string)
{
    while (*string) {
        const size_t length = printable((const unsigned char *)string);
        char escape[8];
        if (length > 0)
            put_bytes(it, string, length);
        else if (*string == '\n')
            put_bytes(it, "\\n", 2);
        else if (*string == '\t')
            put_bytes(it, "\\t", 2);
        else
            put_bytes(it, escape,
                      (size_t)snprintf(escape, sizeof escape, "\\x%02x", (unsigned)(unsigned char)*string));
        string += length ? length : 1;
    }
}

static void put_part(line *it, const char *part)
{
    if (!part || !part[0])
        return;
    put(it, part);
    put_bytes(it, ": ", 2);
}

static void say(line *it)
{
    it->text[it->size++] = '\n';
    (void)fwrite(it->text, 1, it->size, stderr); /* there is nowhere left to say that this failed */
}

int tdm_say_error(const tdm_error *error)
{
    line it = {.size = 0};
    put_part(&it, "tidemark");
    put_part(&it, error->file);
    put_part(&it, error->place);
    put(&it, error->text);
    say(&it);
    return tdm_exit_status(error->code);
}

int tdm_usage_error(const char *format, ...)
{
    char text[1024];
    va_list arguments;
    va_start(arguments, format);
    (void)vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    line it = {.size = 0};
    put_part(&it, "tidemark");
    put(&it, text);
    say(&it);
    return tdm_exit_status(TDM_ERR_USAGE);
}

void tdm_say_warnings(const char *file, const tdm_warning *warnings, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        line it = {.size = 0};
        put_part(&it, "tidemark");
        put_part(&it, file);
        put_part(&it, "warning");
        put_part(&it, warnings[i].zone);
        put(&it, warnings[i].text);
        say(&it);
    }
}

int tdm_say_usable(const char *file, const tdm_reading *reading)
{
    line it = {.size = 0};
    if (tdm_reading_usable(reading))
        return 0;
    put_part(&it, "tidemark");
    put_part(&it, file);
    put(&it, "isn't usable for measuring; the warnings say why");
    say(&it);
    return tdm_exit_status(TDM_ERR_UNUSABLE);
}
