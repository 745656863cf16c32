/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Growth between two photographs. METHODS.md has its rules. */
#ifndef TDM_COMPARE_GROWTH_H
#define TDM_COMPARE_GROWTH_H

#include "base/warnings.h"
#include "tidemark/comparison.h"

/* What the dates allow: days, and the state; NULL as state where growth may be told. */
tdm_growth tdm_growth_dates(const tdm_reading *before, const tdm_reading *after);

/* Growth of one zone; out->text is malloc'ed. A pace that isn't usual gets a warning. */
TDM_MUST_CHECK tdm_code tdm_growth_zone(const tdm_growth *dates, const tdm_zone_change *zone,
                                        tdm_warnings *warnings, tdm_growth *out, tdm_error *error);

/* Of the head: the mean over the zones that tell it, where at least half of them do. */
TDM_MUST_CHECK tdm_code tdm_growth_head(const tdm_growth *dates, const tdm_zone_change *head,
                                        const tdm_zone_change *zones, size_t count, tdm_growth *out,
                                        tdm_error *error);

/* The sentence for a growth; NULL stays where there is nothing to say. */
TDM_MUST_CHECK tdm_code tdm_growth_words(const tdm_zone_change *zone, tdm_growth *growth, tdm_error *error);

/* Whether a line has kept what growth doesn't change. */
typedef enum tdm_kept { TDM_KEPT_ALL, TDM_KEPT_NOT_WIDTH, TDM_KEPT_NOT_COLOURS } tdm_kept;
tdm_kept tdm_line_kept(const tdm_zone_change *zone);

#endif
