/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "option_values.h"

#include <errno.h>
#include <inttypes.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "message.h"

enum { GO_ON = -1 };

int tdm_option_number(const char *option, const char *value, uint64_t least, uint64_t most, uint64_t *out)
{
    char *end = NULL;
    errno = 0;
    const unsigned long long number = strtoull(value, &end, 10);
    if (value[0] < '0' || value[0] > '9' || *end || errno != 0 || number < least || number > most)
        return tdm_usage_error("%s '%s' must be a whole number from %" PRIu64 " to %" PRIu64, option, value,
                               least, most);
    *out = number;
    return GO_ON;
}

static bool is_digit(char at)
{
    return at >= '0' && at <= '9';
}

/* Digits with a full stop between them or none, at most 15: so many a double holds. NaN for anything else. */
static double decimal(const char *text)
{
    double number = 0;
    double parts = 1; /* tens of the digits behind the full stop */
    bool behind = false;
    size_t digits = 0;
    for (const char *at = text; *at; at++) {
        if (*at == '.' && !behind && digits > 0 && is_digit(at[1])) {
            behind = true;
            continue;
        }
        if (!is_digit(*at) || ++digits > 15)
            return (double)NAN;
        number = 10 * number + (*at - '0');
        parts *= behind ? 10 : 1;
    }
    return digits > 0 ? number / parts : (double)NAN;
}

int tdm_option_mm(const char *option, const char *value, double *out)
{
    const double most = 2000;
    const double number = decimal(value);
    if (!(number > 0 && number <= most))
        return tdm_usage_error("%s '%s' must be a length in mm above 0 and at most %.0f, such as 279.4",
                               option, value, most);
    *out = number;
    return GO_ON;
}

int tdm_option_level(const char *option, const char *value, double *out)
{
    const double number = decimal(value);
    if (!(number >= 1 && number <= 12))
        return tdm_usage_error("%s '%s' must be a level from 1 to 12, such as 8 or 8.5", option, value);
    *out = number;
    return GO_ON;
}

int tdm_option_when(const char *option, const char *value, tdm_when *out)
{
    static const char *const words[] = {"auto", "always", "never"};
    static const tdm_when meanings[] = {TDM_WHEN_AUTO, TDM_WHEN_ALWAYS, TDM_WHEN_NEVER};
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        if (strcmp(value, words[i]) == 0) {
            *out = meanings[i];
            return GO_ON;
        }
    }
    return tdm_usage_error("%s '%s' must be auto, always or never", option, value);
}
