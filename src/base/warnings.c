/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/warnings.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"

static bool make_room(tdm_warnings *warnings)
{
    if (warnings->count < warnings->room)
        return true;
    const size_t room = warnings->room ? 2 * warnings->room : 8;
    tdm_warning *items = realloc(warnings->items, room * sizeof *items);
    if (!items)
        return false;
    warnings->items = items;
    warnings->room = room;
    return true;
}

tdm_code tdm_warn(tdm_warnings *warnings, tdm_error *error, const char *code, const char *zone,
                  const char *format, ...)
{
    char text[512];
    va_list arguments;
    va_start(arguments, format);
    (void)vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);

    char *kept = strdup(text);
    char *where = zone ? strdup(zone) : NULL;
    if (!kept || (zone && !where) || !make_room(warnings)) {
        free(kept);
        free(where);
        return tdm_fail_memory(error, NULL);
    }
    warnings->items[warnings->count++] = (tdm_warning){.code = code, .text = kept, .zone = where};
    return TDM_OK;
}

bool tdm_warnings_have(const tdm_warnings *warnings, const char *code)
{
    for (size_t i = 0; i < warnings->count; i++) {
        if (strcmp(warnings->items[i].code, code) == 0)
            return true;
    }
    return false;
}

void tdm_warnings_free(tdm_warnings *warnings)
{
    for (size_t i = 0; i < warnings->count; i++) {
        free((char *)warnings->items[i].text);
        free((char *)warnings->items[i].zone);
    }
    free(warnings->items);
    *warnings = (tdm_warnings){0};
}
