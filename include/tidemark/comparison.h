/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Two readings of the same head, and what changed. */
#ifndef TIDEMARK_COMPARISON_H
#define TIDEMARK_COMPARISON_H

#include "tidemark/reading.h"

TDM_BEGIN_DECLS

typedef struct tdm_comparison tdm_comparison;

/* One zone that both readings have (matched by name), or the head. Everything in it belongs to the comparison
 * or to its readings. */
typedef struct tdm_zone_change {
    const tdm_zone_reading *before;
    const tdm_zone_reading *after;
    const char *meaning; /* one plain sentence */
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
