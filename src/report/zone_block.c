/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One zone's block: title, meaning, swatches, figures, profile. Rows come from the figures' table. */
#include <math.h>
#include <string.h>

#include "report/grid.h"
#include "report/page.h"
#include "report/plain.h"

static const char *missing(const tdm_page *page)
{
    return page->style.unicode ? "\u2013" : "-";
}

/* An uncertainty that would be printed as nothing gets a digit or two more: "33.1 ± 0.2", not "33 ± 0". */
static int digits_of(tdm_value found, int digits)
{
    double least = 0.5 * pow(10, -digits);
    for (int more = 0; more < 2 && found.u > 0 && found.u < least; more++, digits++)
        least /= 10;
    return digits;
}

static void add_value(tdm_text *cell, const tdm_page *page, tdm_value found, int base_digits)
{
    const int digits = digits_of(found, base_digits);
    tdm_text_number(cell, found.value, digits, missing(page));
    if (!isfinite(found.u))
        return;
    tdm_text_add(cell, page->style.unicode ? " \u00B1 " : " +- ");
    tdm_text_number(cell, found.u, digits, "");
}

/* d' at each of the distances that the label names. */
static void add_visibility(tdm_text *cell, const tdm_page *page, const tdm_visibility *seen, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        tdm_text_add(cell, i > 0 ? "/" : "");
        tdm_text_number(cell, seen[i].dprime, 1, missing(page));
    }
}

/* A line that shows, and is never out of sight as far as is looked. */
static bool never_hides(const tdm_zone_reading *zone, const tdm_figure *figure)
{
    tdm_value found;
    return strcmp(figure->path, "demarcation.hidden_from_m") == 0 &&
           tdm_zone_value(zone, tdm_figure_find("demarcation.shows_from_m"), &found);
}

static void add_cell(tdm_text *cell, const tdm_page *page, const tdm_zone_reading *zone,
                     const tdm_figure *figure)
{
    tdm_value found;
    bool flag = false;
    size_t count = 0;
    const tdm_visibility *seen = tdm_zone_visibility(zone, figure, &count);
    const char *word = tdm_zone_word(zone, figure);
    if (tdm_zone_value(zone, figure, &found))
        add_value(cell, page, found, figure->digits);
    else if (seen)
        add_visibility(cell, page, seen, count);
    else if (never_hides(zone, figure))
        tdm_text_add(cell, "over 10");
    else if (tdm_zone_flag(zone, figure, &flag))
        tdm_text_add(cell, flag ? "yes" : "no");
    else
        tdm_text_add(cell, word ? word : missing(page));
}

static void add_change(tdm_grid_row *row, const tdm_page *page, const tdm_block *block,
                       const tdm_figure *figure)
{
    tdm_value found;
    tdm_text *cell = &row->cells[2];
    if (tdm_change(block->change, figure, &found)) {
        row->strong = isfinite(found.u) && fabs(found.value) > found.u;
        /* A sign only where a digit is left to have one. */
        if (found.value >= 0.5 * pow(10, -digits_of(found, figure->digits)))
            tdm_text_add(cell, "+");
        add_value(cell, page, found, figure->digits);
    } else if (figure->kind == TDM_FIGURE_WORD || figure->kind == TDM_FIGURE_FLAG) {
        const char *before = row->cells[0].data;
        const char *after = row->cells[1].data;
        const bool null =
            !before || !after || strcmp(before, missing(page)) == 0 || strcmp(after, missing(page)) == 0;
        row->strong = !null && strcmp(before, after) != 0;
        tdm_text_add(cell, null ? missing(page) : row->strong ? "changed" : "same");
    } else {
        tdm_text_add(cell, missing(page));
    }
}

static void add_label(tdm_text *label, const tdm_figure *figure)
{
    tdm_text_add(label, figure->label);
    if (figure->unit[0] && strcmp(figure->unit, "level") != 0)
        tdm_text_format(label, ", %s", figure->unit);
}

static void add_headings(tdm_grid *grid)
{
    tdm_grid_row *row = tdm_grid_add(grid);
    if (!row)
        return;
    tdm_text_add(&row->cells[0], "before");
    tdm_text_add(&row->cells[1], "after");
    tdm_text_add(&row->cells[2], "change");
}

static void put_figures(tdm_page *page, const tdm_block *block)
{
    tdm_grid grid = {.cells = block->after ? 3 : 1};
    if (block->after)
        add_headings(&grid);
    size_t count = 0;
    const tdm_figure *figures = tdm_figures(&count), *previous = NULL;
    for (size_t i = 0; i < count; i++) {
        tdm_grid_row *row = tdm_block_shows(block, &figures[i]) ? tdm_grid_add(&grid) : NULL;
        if (!row)
            continue;
        row->apart = previous && tdm_figure_group(&figures[i]) != tdm_figure_group(previous);
        previous = &figures[i];
        add_label(&row->label, &figures[i]);
        add_cell(&row->cells[0], page, block->before, &figures[i]);
        if (!block->after)
            continue;
        add_cell(&row->cells[1], page, block->after, &figures[i]);
        add_change(row, page, block, &figures[i]);
    }
    tdm_grid_print(&grid, page);
}

static void put_swatches(tdm_page *page, const tdm_zone_reading *zone, const char *label)
{
    static const struct {
        const char *path;
        const char *words;
    } places[] = {{"root.lab", "root "}, {"mid.lab", " mid "}, {"ends.lab", " ends "}};
    tdm_text_add(&page->text, label);
    for (size_t i = 0; i < sizeof places / sizeof places[0]; i++) {
        double lab[3];
        tdm_text_add(&page->text, places[i].words);
        if (tdm_zone_lab(zone, tdm_figure_find(places[i].path), lab))
            tdm_page_swatch(page, lab, 4);
        else
            tdm_text_add(&page->text, missing(page));
    }
    tdm_page_line(page);
}

static void put_title(tdm_page *page, const tdm_block *block)
{
    tdm_text title = {0};
    tdm_text_add(&title, block->title ? block->title : tdm_zone_name(block->before));
    if (tdm_zone_side(block->before))
        tdm_text_format(&title, " (%s)", tdm_zone_side(block->before));
    tdm_page_rule(page, title.data ? title.data : "");
    page->text.failed = page->text.failed || title.failed;
    tdm_text_free(&title);
}

/* The levels' note stands beside every table that has levels. */
static void put_level_note(tdm_page *page, const tdm_block *block)
{
    tdm_text note = {0};
    tdm_text_format(&note, "levels: %s", block->level_note);
    tdm_page_dim(page);
    tdm_page_wrap(page, "  ", 2, note.data ? note.data : "");
    tdm_page_plain(page);
    page->text.failed = page->text.failed || note.failed;
    tdm_text_free(&note);
}

/* A zone that couldn't be read has two dozen dashes to show. */
static bool has_figures(const tdm_zone_reading *zone)
{
    size_t count = 0;
    const tdm_figure *figures = tdm_figures(&count);
    for (size_t i = 0; i < count; i++) {
        tdm_value found;
        double lab[3];
        if (tdm_zone_value(zone, &figures[i], &found) || tdm_zone_lab(zone, &figures[i], lab) ||
            tdm_zone_word(zone, &figures[i]))
            return true;
    }
    return false;
}

void tdm_page_block(tdm_page *page, const tdm_block *block)
{
    tdm_page_line(page);
    put_title(page, block);
    if (!has_figures(block->before) && (!block->after || !has_figures(block->after))) {
        tdm_page_wrap(page, "  ", 2, "No figure could be read here; the warnings say why.");
        return;
    }
    if (block->change) {
        tdm_page_wrap(page, "  ", 2, block->change->meaning);
        if (block->change->growth.text)
            tdm_page_wrap(page, "  ", 2, block->change->growth.text);
        tdm_page_line(page);
    }
    if (page->style.truecolour) {
        put_swatches(page, block->before, block->after ? "  before  " : "  ");
        if (block->after)
            put_swatches(page, block->after, "  after   ");
    }
    put_figures(page, block);
    tdm_page_places(page, block);
    put_level_note(page, block);
    tdm_page_profiles(page, block);
}
