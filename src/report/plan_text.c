/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A plan for a person at a terminal. */
#include <math.h>
#include <string.h>

#include "plan/plan_parts.h"
#include "report/page.h"
#include "report/warning_list.h"
#include "report/words.h"
#include "tidemark/plan.h"

static void add_value(tdm_text *text, bool unicode, const char *lead, tdm_value value, int digits,
                      const char *unit)
{
    if (!isfinite(value.value))
        return;
    tdm_text_add(text, lead);
    tdm_text_number(text, value.value, digits, "-");
    if (isfinite(value.u)) {
        tdm_text_add(text, unicode ? " \u00B1 " : " +- ");
        tdm_text_number(text, value.u, digits, "-");
    }
    tdm_text_add(text, unit);
}

/* What the sentences leave out. */
static void add_shade(tdm_text *text, bool unicode, const tdm_zone_plan *zone)
{
    const tdm_root_shade *shade = &zone->shade;
    add_value(text, unicode, " Shade: level ", shade->level, 1, "");
    for (int k = 0; k < 3; k++) {
        tdm_text_add(text, k == 0 ? ", CIELAB " : " ");
        tdm_text_number(text, shade->lab[k], 1, "-");
    }
    tdm_text_add(text, ", ");
    tdm_text_number(text, 100 * shade->way, 0, "-");
    tdm_text_add(text, " % of the way from root to lengths. Simulated:");
    add_value(text, unicode, " width ", zone->after.width_mm, 0, " mm,");
    add_value(text, unicode, " d' ", zone->after.dprime, 1, ".");
}

static void put_figures(tdm_page *page, const tdm_zone_plan *zone)
{
    tdm_text text = {0};
    if (!isfinite(zone->dprime))
        return;
    tdm_text_add(&text, "Now: d' ");
    tdm_text_number(&text, zone->dprime, 1, "-");
    tdm_text_add(&text, " at 1.2 m.");
    if (zone->planned)
        add_shade(&text, page->style.unicode, zone);
    tdm_page_dim(page);
    tdm_page_put(page, &text, "  ", 2);
    tdm_page_plain(page);
}

static void put_need(tdm_page *page, const tdm_zone_plan *zone)
{
    tdm_text title = {0};
    const bool possible = strcmp(zone->need, TDM_PLAN_IMPOSSIBLE) != 0;
    tdm_text_format(&title, "%s: %s%s", zone->name, possible ? "blend " : "", zone->need);
    tdm_page_line(page);
    tdm_page_rule(page, title.data ? title.data : "");
    page->text.failed = page->text.failed || title.failed;
    tdm_text_free(&title);
}

static void put_zone(tdm_page *page, const tdm_zone_plan *zone)
{
    put_need(page, zone);
    if (zone->why)
        tdm_page_wrap(page, "  ", 2, zone->why);
    if (zone->blend)
        tdm_page_wrap(page, "  ", 2, zone->blend);
    if (zone->leave)
        tdm_page_wrap(page, "  ", 2, zone->leave);
    put_figures(page, zone);
}

static void put_level_note(tdm_page *page, const tdm_reading *reading)
{
    tdm_text text = {0};
    tdm_text_format(&text, "Levels: %s. A level is how light or dark hair is, not a product.",
                    tdm_reading_level_scale(reading));
    tdm_page_line(page);
    tdm_page_put(page, &text, "  ", 2);
}

tdm_code tdm_plan_text(const tdm_plan *plan, const tdm_text_style *style, char **out, tdm_error *error)
{
    tdm_page page = tdm_page_start(style);
    const tdm_reading *reading = tdm_plan_reading(plan);
    tdm_page_facts(&page, reading, NULL);
    if (tdm_plan_summary(plan)) {
        tdm_page_line(&page);
        tdm_page_rule(&page, "plan");
        tdm_page_wrap(&page, "  ", 2, tdm_plan_summary(plan));
    }
    for (size_t i = 0; i < tdm_plan_zone_count(plan); i++)
        put_zone(&page, tdm_plan_zone(plan, i));
    put_level_note(&page, reading);
    tdm_warning_source source = {.label = ""};
    source.warnings = tdm_reading_warnings(reading, &source.count);
    tdm_page_warnings(&page, &source, 1);
    tdm_page_line(&page);
    tdm_page_rule(&page, "caution");
    tdm_page_wrap(&page, "  ", 2, tdm_caution);
    return tdm_page_finish(&page, out, error);
}
