/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Readings and comparisons as CSV: a header, one row a zone, one for the head. Profiles and places, which are
 * lists of their own, are left to JSON. */
#include <math.h>

#include "report/csv_row.h"
#include "report/plain.h"
#include "tidemark/report.h"

static const char *const lab_suffixes[3] = {".l", ".a", ".b"};

/* ".0.6m" */
static void visibility_headings(tdm_csv *csv, const char *prefix, const tdm_figure *figure,
                                const tdm_zone_reading *zone)
{
    size_t count = 0;
    const tdm_visibility *items = tdm_zone_visibility(zone, figure, &count);
    for (size_t i = 0; items && i < count; i++) {
        tdm_text suffix = {0};
        tdm_text_add(&suffix, ".");
        tdm_add_short(&suffix, items[i].distance_m);
        tdm_text_add(&suffix, "m");
        tdm_csv_heading(csv, prefix, figure->path, suffix.data ? suffix.data : "");
        csv->text.failed = csv->text.failed || suffix.failed;
        tdm_text_free(&suffix);
    }
}

static void figure_headings(tdm_csv *csv, const char *prefix, const tdm_figure *figure,
                            const tdm_zone_reading *zone)
{
    switch (figure->kind) {
    case TDM_FIGURE_VALUE:
        tdm_csv_heading(csv, prefix, figure->path, "");
        tdm_csv_heading(csv, prefix, figure->path, ".u");
        break;
    case TDM_FIGURE_NUMBER:
    case TDM_FIGURE_FLAG:
    case TDM_FIGURE_WORD:
        tdm_csv_heading(csv, prefix, figure->path, "");
        break;
    case TDM_FIGURE_LAB:
        for (size_t i = 0; i < 3; i++)
            tdm_csv_heading(csv, prefix, figure->path, lab_suffixes[i]);
        break;
    case TDM_FIGURE_VISIBILITY:
        visibility_headings(csv, prefix, figure, zone);
        break;
    case TDM_FIGURE_PROFILE:
    case TDM_FIGURE_PLACES:
        break;
    }
}

static void value_cells(tdm_csv *csv, const tdm_figure *figure, bool there, tdm_value found)
{
    tdm_csv_number(csv, there ? found.value : (double)NAN);
    if (figure->kind == TDM_FIGURE_VALUE)
        tdm_csv_number(csv, there ? found.u : (double)NAN);
}

static void lab_cells(tdm_csv *csv, const tdm_figure *figure, const tdm_zone_reading *zone)
{
    double lab[3] = {NAN, NAN, NAN};
    (void)tdm_zone_lab(zone, figure, lab); /* stays NaN, an empty cell, where null */
    for (size_t i = 0; i < 3; i++)
        tdm_csv_number(csv, lab[i]);
}

static void visibility_cells(tdm_csv *csv, const tdm_figure *figure, const tdm_zone_reading *zone)
{
    size_t count = 0;
    const tdm_visibility *items = tdm_zone_visibility(zone, figure, &count);
    for (size_t i = 0; items && i < count; i++)
        tdm_csv_number(csv, items[i].dprime);
}

static void figure_cells(tdm_csv *csv, const tdm_figure *figure, const tdm_zone_reading *zone)
{
    tdm_value found = {0};
    bool flag = false;
    switch (figure->kind) {
    case TDM_FIGURE_VALUE:
    case TDM_FIGURE_NUMBER:
        value_cells(csv, figure, tdm_zone_value(zone, figure, &found), found);
        break;
    case TDM_FIGURE_FLAG:
        tdm_csv_word(csv, !tdm_zone_flag(zone, figure, &flag) ? NULL : flag ? "true" : "false");
        break;
    case TDM_FIGURE_WORD:
        tdm_csv_word(csv, tdm_zone_word(zone, figure));
        break;
    case TDM_FIGURE_LAB:
        lab_cells(csv, figure, zone);
        break;
    case TDM_FIGURE_VISIBILITY:
        visibility_cells(csv, figure, zone);
        break;
    case TDM_FIGURE_PROFILE:
    case TDM_FIGURE_PLACES:
        break;
    }
}

static void all_headings(tdm_csv *csv, const char *prefix, const tdm_zone_reading *zone)
{
    size_t count = 0;
    const tdm_figure *figures = tdm_figures(&count);
    for (size_t i = 0; i < count; i++)
        figure_headings(csv, prefix, &figures[i], zone);
}

static void all_cells(tdm_csv *csv, const tdm_zone_reading *zone)
{
    size_t count = 0;
    const tdm_figure *figures = tdm_figures(&count);
    for (size_t i = 0; i < count; i++)
        figure_cells(csv, &figures[i], zone);
}

static bool has_change(const tdm_figure *figure)
{
    return figure->kind == TDM_FIGURE_VALUE || figure->kind == TDM_FIGURE_NUMBER ||
           figure->kind == TDM_FIGURE_LAB;
}

static void change_headings(tdm_csv *csv)
{
    size_t count = 0;
    const tdm_figure *figures = tdm_figures(&count);
    for (size_t i = 0; i < count; i++) {
        if (!has_change(&figures[i]))
            continue;
        tdm_csv_heading(csv, "change.", figures[i].path, figures[i].kind == TDM_FIGURE_LAB ? ".de00" : "");
        if (figures[i].kind == TDM_FIGURE_VALUE)
            tdm_csv_heading(csv, "change.", figures[i].path, ".u");
    }
}

static void change_cells(tdm_csv *csv, const tdm_zone_change *change)
{
    size_t count = 0;
    const tdm_figure *figures = tdm_figures(&count);
    for (size_t i = 0; i < count; i++) {
        tdm_value found = {0};
        if (has_change(&figures[i]))
            value_cells(csv, &figures[i], tdm_change(change, &figures[i], &found), found);
    }
}

static const char *const growth_columns[] = {"growth.state", "growth.days",         "growth.mm",
                                             "growth.mm.u",  "growth.mm_per_month", "growth.mm_per_month.u",
                                             "growth.pace"};

static void growth_cells(tdm_csv *csv, const tdm_growth *growth)
{
    tdm_csv_word(csv, growth->state);
    tdm_csv_number(csv, growth->days);
    tdm_csv_number(csv, growth->mm.value);
    tdm_csv_number(csv, growth->mm.u);
    tdm_csv_number(csv, growth->mm_per_month.value);
    tdm_csv_number(csv, growth->mm_per_month.u);
    tdm_csv_word(csv, growth->pace);
}

static void reading_row(tdm_csv *csv, const char *file, const tdm_zone_reading *zone)
{
    tdm_csv_word(csv, file);
    tdm_csv_word(csv, tdm_zone_name(zone));
    tdm_csv_word(csv, tdm_zone_side(zone));
    all_cells(csv, zone);
    tdm_csv_end_row(csv);
}

tdm_code tdm_reading_csv(const tdm_reading *reading, char **out, tdm_error *error)
{
    tdm_photo_facts facts;
    tdm_reading_photo(reading, &facts);
    tdm_csv csv = {0};
    tdm_csv_word(&csv, "file");
    tdm_csv_word(&csv, "zone");
    tdm_csv_word(&csv, "side");
    all_headings(&csv, "", tdm_reading_head(reading));
    tdm_csv_end_row(&csv);
    for (size_t i = 0; i < tdm_reading_zone_count(reading); i++)
        reading_row(&csv, facts.file, tdm_reading_zone(reading, i));
    reading_row(&csv, facts.file, tdm_reading_head(reading));
    return tdm_csv_finish(&csv, out, error);
}

static void comparison_header(tdm_csv *csv, const tdm_zone_change *head)
{
    tdm_csv_word(csv, "before.file");
    tdm_csv_word(csv, "after.file");
    tdm_csv_word(csv, "zone");
    tdm_csv_word(csv, "side");
    tdm_csv_word(csv, "meaning");
    all_headings(csv, "before.", head->before);
    all_headings(csv, "after.", head->after);
    change_headings(csv);
    for (size_t i = 0; i < sizeof growth_columns / sizeof growth_columns[0]; i++)
        tdm_csv_word(csv, growth_columns[i]);
    tdm_csv_end_row(csv);
}

static void comparison_row(tdm_csv *csv, const char *before, const char *after, const tdm_zone_change *change)
{
    tdm_csv_word(csv, before);
    tdm_csv_word(csv, after);
    tdm_csv_word(csv, tdm_zone_name(change->before));
    tdm_csv_word(csv, tdm_zone_side(change->before));
    tdm_csv_word(csv, change->meaning);
    all_cells(csv, change->before);
    all_cells(csv, change->after);
    change_cells(csv, change);
    growth_cells(csv, &change->growth);
    tdm_csv_end_row(csv);
}

tdm_code tdm_comparison_csv(const tdm_comparison *comparison, char **out, tdm_error *error)
{
    tdm_photo_facts before;
    tdm_photo_facts after;
    tdm_reading_photo(tdm_comparison_before(comparison), &before);
    tdm_reading_photo(tdm_comparison_after(comparison), &after);
    tdm_csv csv = {0};
    comparison_header(&csv, tdm_comparison_head(comparison));
    for (size_t i = 0; i < tdm_comparison_zone_count(comparison); i++)
        comparison_row(&csv, before.file, after.file, tdm_comparison_zone(comparison, i));
    comparison_row(&csv, before.file, after.file, tdm_comparison_head(comparison));
    return tdm_csv_finish(&csv, out, error);
}
