/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Words that every kind of report carries. */
#ifndef TDM_REPORT_WORDS_H
#define TDM_REPORT_WORDS_H

#include "tidemark/reading.h"

/* Stands with every result that may lead to lightening or colouring. */
extern const char tdm_caution[];

/* Above the figures of all zones together. */
extern const char tdm_head_title[];

/* The libraries whose versions may change digits; NULL ends the list. */
extern const char *const tdm_libraries[];

#endif
