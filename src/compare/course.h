/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The course of colour from root to ends, and the words for it. */
#ifndef TDM_COMPARE_COURSE_H
#define TDM_COMPARE_COURSE_H

#include "base/text.h"
#include "tidemark/comparison.h"

typedef enum tdm_course_kind {
    TDM_COURSE_UNKNOWN,
    TDM_COURSE_EVEN,
    TDM_COURSE_RAMP,
    TDM_COURSE_BLEND,
    TDM_COURSE_LINE,
    TDM_COURSE_BAND
} tdm_course_kind;

/* Everything the words need of one side. */
typedef struct tdm_course {
    tdm_course_kind kind;
    const char *grade; /* of a line that shows, or NULL */
    double centre;     /* NaN where null; mm, or share of the length */
    double width;
    bool in_mm;
    int digits; /* of lengths in mm */
} tdm_course;

/* Templates: $G "hard " or "", $C " at 34 mm" or "", $A " around 34 mm" or "", $B " from 34 mm on" or "", $W
 * ", 5 mm wide" or "", $V the same and a comma, $O " over 41 mm" or "". */
typedef struct tdm_course_words {
    const char *gone;  /* begins the sentence: another course has taken its place */
    const char *was;   /* begins the sentence: what became of it is unknown */
    const char *now;   /* goes on after a semicolon */
    const char *still; /* the whole part, where the kind is the same before and after */
    const char *width; /* what its width is called, or NULL where it has none */
} tdm_course_words;

/* By kind. */
extern const tdm_course_words tdm_course_table[];

tdm_course tdm_course_of(const tdm_zone_reading *zone, bool in_mm);

/* A side that has the share but not the millimetres would have to be compared in shares. */
bool tdm_lacks_mm(const tdm_zone_reading *zone);

/* "34 mm" or "15 % of the length" */
void tdm_add_length(tdm_text *text, const tdm_course *it, double length);

/* The same between a lead and a tail; nothing at all where the length is null. */
void tdm_add_phrase(tdm_text *text, const char *lead, const tdm_course *it, double length, const char *tail);

/* A template of the table. */
void tdm_course_expand(tdm_text *text, const char *template, const tdm_course *it);

#endif
