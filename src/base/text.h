/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Text that grows. Numbers get a full stop whatever the program's locale. */
#ifndef TDM_BASE_TEXT_H
#define TDM_BASE_TEXT_H

#include <stdbool.h>
#include <stddef.h>

#include "tidemark/export.h"

/* Starts as {0}. A failed allocation sets `failed` and makes later calls do nothing, so that a writer checks
 * once at its end. */
typedef struct tdm_text {
    char *data; /* NULL while empty, terminated otherwise */
    size_t size;
    size_t room;
    bool failed;
} tdm_text;

void tdm_text_add(tdm_text *text, const char *string);
void tdm_text_add_bytes(tdm_text *text, const char *bytes, size_t count);
/* For everything but floating-point numbers. */
void tdm_text_format(tdm_text *text, const char *format, ...) TDM_PRINTF(2, 3);
/* Fixed point with `digits` decimals; a NaN or infinity is written as `missing`. No "-0.0". */
void tdm_text_number(tdm_text *text, double value, int digits, const char *missing);
void tdm_text_free(tdm_text *text);

#endif
