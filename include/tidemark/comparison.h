/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Two readings of the same head, and what changed. */
#ifndef TIDEMARK_COMPARISON_H
#define TIDEMARK_COMPARISON_H

#include "tidemark/reading.h"

TDM_BEGIN_DECLS

typedef struct tdm_comparison tdm_comparison;

/* How far the hair has grown between the two photographs, told by the line of a colour before both.
 * METHODS.md of src/compare has the rules. NaN and NULL where it can't be told. */
typedef struct tdm_growth {
    double days;            /* from the first photograph's day to the second's; below zero where they are the
                               wrong way round */
    tdm_value mm;           /* how far the line's centre has moved */
    tdm_value mm_per_month; /* a month is 30.44 days */
    const char *pace;       /* "slow", "usual", "fast" against the published range widened by u */
    /* "grown"; "unchanged", where it isn't beyond its u; or why there is no growth to tell: "no-date",
     * "out-of-order", "same-day", "coloured" (between the two, by the second's date of colour), "no-line",
     * "no-scale", "too-soon" (under 14 days), "receded" (the line is nearer to the root), "other-width",
     * "other-colours" (than a line that only grows would have). Of the head also "varies". */
    const char *state;
    const char *text; /* one plain sentence, or NULL where there is nothing to say */
} tdm_growth;

/* One zone that both readings have (matched by name), or the head. Everything in it belongs to the comparison
 * or to its readings. */
typedef struct tdm_zone_change {
    const tdm_zone_reading *before;
    const tdm_zone_reading *after;
    const char *meaning; /* one plain sentence */
    tdm_growth growth;
} tdm_zone_change;

/* Both readings must outlive the comparison. TDM_ERR_UNUSABLE where no zone is in both. */
TDM_API TDM_MUST_CHECK tdm_code tdm_compare(const tdm_reading *before, const tdm_reading *after,
                                            tdm_comparison **out, tdm_error *error);
TDM_API void tdm_comparison_free(tdm_comparison *comparison); /* NULL is allowed */

TDM_API const tdm_reading *tdm_comparison_before(const tdm_comparison *comparison);
TDM_API const tdm_reading *tdm_comparison_after(const tdm_comparison *comparison);
TDM_API size_t tdm_comparison_zone_count(const tdm_comparison *comparison);
TDM_API const tdm_zone_change *tdm_comparison_zone(const tdm_comparison *comparison, size_t index);
TDM_API const tdm_zone_change *tdm_comparison_head(const tdm_comparison *comparison);
/* Zones that only one photograph has, and set-ups that differ. */
TDM_API const tdm_warning *tdm_comparison_warnings(const tdm_comparison *comparison, size_t *count);

/* after - before of a VALUE or NUMBER figure, u combined in quadrature (uncertainties taken as independent).
 * For a LAB figure value is the CIEDE2000 between the two and u NaN. False where either is null. */
TDM_API bool tdm_change(const tdm_zone_change *zone, const tdm_figure *figure, tdm_value *out);

TDM_END_DECLS

#endif
