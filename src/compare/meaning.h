/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the change of a zone means, in one plain sentence. METHODS.md has its rules. */
#ifndef TDM_COMPARE_MEANING_H
#define TDM_COMPARE_MEANING_H

#include "base/text.h"
#include "tidemark/comparison.h"

/* *out is malloc'ed. The meaning in change isn't looked at. */
TDM_MUST_CHECK tdm_code tdm_meaning(const tdm_zone_change *change, const char **out, tdm_error *error);

/* A change is one only beyond its own uncertainty. */
typedef enum tdm_verdict {
    TDM_VERDICT_UNKNOWN, /* null on a side, or without u */
    TDM_VERDICT_SAME,    /* within u: unchanged as far as the photographs can tell */
    TDM_VERDICT_UP,
    TDM_VERDICT_DOWN
} tdm_verdict;

tdm_verdict tdm_verdict_of(const tdm_zone_change *change, const char *path);

/* What is the same within the uncertainty, gathered to be said once at the end. */
typedef struct tdm_unchanged {
    const char *items[4];
    size_t count;
} tdm_unchanged;

/* Adds the part about the line or the course of colour from root to ends; nothing where neither photograph
 * can tell. */
void tdm_line_words(tdm_text *text, const tdm_zone_change *change, tdm_unchanged *unchanged);

/* Adds how the face frame has changed against the rest, beyond its u; nothing of a zone. */
void tdm_frame_words(tdm_text *text, const tdm_zone_change *change);

#endif
