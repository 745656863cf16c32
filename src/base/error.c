/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"

static void copy_cut(char *to, size_t size, const char *from)
{
    size_t length = from ? strlen(from) : 0;
    if (length >= size)
        length = size - 1;
    if (length > 0)
        memcpy(to, from, length);
    to[length] = '\0';
}

tdm_code tdm_fail(tdm_error *error, tdm_code code, const char *file, const char *place, const char *format,
                  ...)
{
    if (error) {
        va_list arguments;
        error->code = code;
        copy_cut(error->file, sizeof error->file, file);
        copy_cut(error->place, sizeof error->place, place);
        va_start(arguments, format);
        (void)vsnprintf(error->text, sizeof error->text, format, arguments);
        va_end(arguments);
    }
    return code;
}

tdm_code tdm_fail_memory(tdm_error *error, const char *file)
{
    return tdm_fail(error, TDM_ERR_MEMORY, file, NULL,
                    "out of memory; close other programs or use a smaller picture");
}

int tdm_exit_status(tdm_code code)
{
    switch (code) {
    case TDM_OK:
        return 0;
    case TDM_ERR_UNUSABLE:
        return 1;
    case TDM_ERR_USAGE:
        return 2;
    case TDM_ERR_UNREADABLE:
    case TDM_ERR_FORMAT:
    case TDM_ERR_UNSUPPORTED:
    case TDM_ERR_LIMIT:
        return 3;
    case TDM_ERR_MEMORY:
    case TDM_ERR_SYSTEM:
        return 4;
    }
    return 4;
}

void tdm_free(void *memory)
{
    free(memory);
}
