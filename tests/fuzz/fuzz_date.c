/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Dates: any text. What parses must be written the same again, and lie between the first day and the last. */
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/date.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void check(const char *text, tdm_date date)
{
    char again[64];
    (void)snprintf(again, sizeof again, "%04d-%02d-%02d", date.year, date.month, date.day);
    const int number = tdm_date_number(date);
    if (strncmp(again, text, TDM_DATE_ROOM - 1) != 0 || number < -141349 || number > 2932896)
        abort();
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    char *text = malloc(size + 1); /* as large as the input, so that reading past its end is seen */
    tdm_date date;
    if (!text)
        return 0;
    if (size > 0)
        memcpy(text, data, size);
    text[size] = '\0';
    if (tdm_date_parse(text, &date))
        check(text, date);
    if (tdm_date_of_capture(text, &date))
        check(text, date);
    free(text);
    return 0;
}
