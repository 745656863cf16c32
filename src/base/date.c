/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/date.h"

#include <string.h>

#include "tidemark/reading.h"

static int days_in(int year, int month)
{
    static const int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    const bool leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
    return month == 2 && leap ? 29 : days[month - 1];
}

bool tdm_date_is_real(tdm_date date)
{
    return date.year >= 1583 && date.year <= 9999 && date.month >= 1 && date.month <= 12 && date.day >= 1 &&
           date.day <= days_in(date.year, date.month);
}

/* The number that `count` digits make; false where one isn't a digit, as the terminating zero. */
static bool digits(const char *text, int count, int *out)
{
    *out = 0;
    for (int i = 0; i < count; i++) {
        if (text[i] < '0' || text[i] > '9')
            return false;
        *out = 10 * *out + (text[i] - '0');
    }
    return true;
}

/* What follows the day isn't looked at. */
static bool starts_with_day(const char *text, tdm_date *out)
{
    tdm_date date;
    if (!digits(text, 4, &date.year) || text[4] != '-' || !digits(text + 5, 2, &date.month) ||
        text[7] != '-' || !digits(text + 8, 2, &date.day) || !tdm_date_is_real(date))
        return false;
    *out = date;
    return true;
}

bool tdm_date_parse(const char *text, tdm_date *out)
{
    tdm_date date;
    if (!starts_with_day(text, &date) || text[TDM_DATE_ROOM - 1] != '\0')
        return false;
    *out = date;
    return true;
}

bool tdm_date_of_capture(const char *text, tdm_date *out)
{
    tdm_date date;
    if (!starts_with_day(text, &date) || (text[TDM_DATE_ROOM - 1] != '\0' && text[TDM_DATE_ROOM - 1] != 'T'))
        return false;
    *out = date;
    return true;
}

int tdm_date_number(tdm_date date)
{
    /* Years begin in March, so that a leap day is a year's last; 153 days to every five months from there. */
    const int months = (date.month + 9) % 12, year = date.year - (months > 9 ? 1 : 0);
    const int days = 365 * year + year / 4 - year / 100 + year / 400;
    return days + (153 * months + 2) / 5 + date.day - 1 - 719468; /* the last: 1970-01-01 */
}

bool tdm_is_date(const char *text)
{
    tdm_date date;
    return tdm_date_parse(text, &date);
}
