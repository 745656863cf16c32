/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Readings and comparisons for a person at a terminal. */
#include <math.h>

#include "report/page.h"
#include "report/warning_list.h"
#include "report/words.h"

static bool has_scale(const tdm_reading *reading)
{
    tdm_calibration_facts facts;
    tdm_reading_calibration(reading, &facts);
    return isfinite(facts.mm_per_px);
}

static tdm_warning_source source_of(const tdm_reading *reading, const char *label)
{
    tdm_warning_source it = {.label = label};
    it.warnings = tdm_reading_warnings(reading, &it.count);
    return it;
}

static void put_caution(tdm_page *page)
{
    tdm_page_line(page);
    tdm_page_rule(page, "caution");
    tdm_page_wrap(page, "  ", 2, tdm_caution);
}

static void put_zone(tdm_page *page, const tdm_reading *reading, const tdm_zone_reading *zone,
                     const char *title)
{
    const tdm_block block = {.title = title,
                             .before = zone,
                             .level_note = tdm_reading_level_scale(reading),
                             .before_in_mm = has_scale(reading)};
    tdm_page_block(page, &block);
}

tdm_code tdm_reading_text(const tdm_reading *reading, const tdm_text_style *style, char **out,
                          tdm_error *error)
{
    tdm_page page = tdm_page_start(style);
    tdm_page_facts(&page, reading, NULL);
    for (size_t i = 0; i < tdm_reading_zone_count(reading); i++)
        put_zone(&page, reading, tdm_reading_zone(reading, i), NULL);
    put_zone(&page, reading, tdm_reading_head(reading), tdm_head_title);
    const tdm_warning_source source = source_of(reading, "");
    tdm_page_warnings(&page, &source, 1);
    put_caution(&page);
    return tdm_page_finish(&page, out, error);
}

static void put_change(tdm_page *page, const tdm_comparison *comparison, const tdm_zone_change *change,
                       const char *title)
{
    const tdm_reading *before = tdm_comparison_before(comparison);
    const tdm_block block = {.title = title,
                             .before = change->before,
                             .after = change->after,
                             .change = change,
                             .level_note = tdm_reading_level_scale(before),
                             .before_in_mm = has_scale(before),
                             .after_in_mm = has_scale(tdm_comparison_after(comparison))};
    tdm_page_block(page, &block);
}

tdm_code tdm_comparison_text(const tdm_comparison *comparison, const tdm_text_style *style, char **out,
                             tdm_error *error)
{
    tdm_page page = tdm_page_start(style);
    tdm_page_facts(&page, tdm_comparison_before(comparison), "before");
    tdm_page_facts(&page, tdm_comparison_after(comparison), "after");
    for (size_t i = 0; i < tdm_comparison_zone_count(comparison); i++)
        put_change(&page, comparison, tdm_comparison_zone(comparison, i), NULL);
    put_change(&page, comparison, tdm_comparison_head(comparison), tdm_head_title);

    tdm_warning_source own = {.label = ""};
    own.warnings = tdm_comparison_warnings(comparison, &own.count);
    const tdm_warning_source sources[] = {source_of(tdm_comparison_before(comparison), "before"),
                                          source_of(tdm_comparison_after(comparison), "after"), own};
    tdm_page_warnings(&page, sources, sizeof sources / sizeof sources[0]);
    put_caution(&page);
    return tdm_page_finish(&page, out, error);
}
