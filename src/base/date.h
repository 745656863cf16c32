/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Days of the Gregorian calendar, without zones or hours. */
#ifndef TDM_BASE_DATE_H
#define TDM_BASE_DATE_H

#include <stdbool.h>

enum { TDM_DATE_ROOM = 11 }; /* "2026-03-14" and its end */

typedef struct tdm_date {
    int year, month, day;
} tdm_date;

/* A day that there is, from 1583 (the calendar's first whole year, from which on ISO 8601 needs no agreement)
 * to 9999. */
bool tdm_date_is_real(tdm_date date);

/* "2026-03-14", a real day, and nothing else. */
bool tdm_date_parse(const char *text, tdm_date *out);

/* The day of a capture time, "2026-03-14T09:26:53", or of a date alone. */
bool tdm_date_of_capture(const char *text, tdm_date *out);

/* Days since 1970-01-01 of a real day, below zero before it. */
int tdm_date_number(tdm_date date);

#endif
