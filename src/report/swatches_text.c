/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A reading of swatches for a person at a terminal. */
#include <math.h>
#include <string.h>

#include "report/grid.h"
#include "report/page.h"
#include "report/plain.h"
#include "report/warning_list.h"

static void add_level(tdm_text *text, double level)
{
    tdm_text_number(text, level, level == floor(level) ? 0 : 1, "");
}

static void add_row(tdm_grid *grid, const tdm_page *page, const tdm_swatch *swatch)
{
    tdm_grid_row *row = tdm_grid_add(grid);
    if (!row)
        return;
    add_level(&row->label, swatch->level);
    if (swatch->name) {
        tdm_text_add(&row->label, " ");
        tdm_add_printable(&row->label, swatch->name, page->style.unicode);
    }
    if (!swatch->rising)
        tdm_text_add(&row->label, " (out of order)");
    tdm_text_number(&row->cells[0], swatch->lab[0], 1, "-");
    tdm_text_add(&row->cells[0], page->style.unicode ? " \u00B1 " : " +- ");
    tdm_text_number(&row->cells[0], swatch->u, 1, "-");
    tdm_text_number(&row->cells[1], swatch->spread, 1, "-");
    tdm_text_number(&row->cells[2], swatch->lab[1], 0, "-");
    tdm_text_add(&row->cells[2], ", ");
    tdm_text_number(&row->cells[2], swatch->lab[2], 0, "-");
}

/* All but the order: the table marks those that are out of it, and a sentence below says what to do. */
static void put_warnings(tdm_page *page, const tdm_swatches *swatches)
{
    size_t count = 0;
    const tdm_warning *warnings = tdm_swatches_warnings(swatches, &count);
    size_t order = 0;
    while (order < count && strcmp(warnings[order].code, "swatch-order") != 0)
        order++;
    const size_t rest = order < count ? order + 1 : count;
    const tdm_warning_source around[] = {
        {.label = "", .warnings = warnings, .count = order},
        {.label = "", .warnings = rest > 0 ? warnings + rest : NULL, .count = count - rest}};
    tdm_page_warnings(page, around, 2);
}

static void put_table(tdm_page *page, const tdm_swatches *swatches)
{
    tdm_grid grid = {.cells = 3};
    tdm_grid_row *head = tdm_grid_add(&grid);
    if (head) {
        tdm_text_add(&head->label, "level");
        tdm_text_add(&head->cells[0], "L*");
        tdm_text_add(&head->cells[1], "spread");
        tdm_text_add(&head->cells[2], "a*, b*");
    }
    for (size_t i = 0; i < tdm_swatches_count(swatches); i++) {
        tdm_swatch swatch;
        tdm_swatches_at(swatches, i, &swatch);
        add_row(&grid, page, &swatch);
    }
    tdm_grid_print(&grid, page);
}

/* Side by side, so that the eye sees them rise. */
static void put_colours(tdm_page *page, const tdm_swatches *swatches)
{
    const size_t count = tdm_swatches_count(swatches);
    const size_t room = count ? (page->style.width - 2) / count : 0;
    if (!page->style.truecolour || room == 0)
        return;
    tdm_page_spaces(page, 2);
    for (size_t i = 0; i < count; i++) {
        tdm_swatch swatch;
        tdm_swatches_at(swatches, i, &swatch);
        tdm_page_swatch(page, swatch.lab, room < 6 ? room : 6);
    }
    tdm_page_line(page);
}

tdm_code tdm_swatches_text(const tdm_swatches *swatches, const tdm_text_style *style, char **out,
                           tdm_error *error)
{
    tdm_page page = tdm_page_start(style);
    tdm_photo_facts photo;
    tdm_text facts = {0};
    tdm_swatches_photo(swatches, &photo);
    tdm_add_photo(&facts, &photo);
    tdm_page_put(&page, &facts, "", 2);
    tdm_page_line(&page);
    tdm_page_rule(&page, "swatches");
    put_colours(&page, swatches);
    put_table(&page, swatches);
    tdm_page_line(&page);
    tdm_page_wrap(&page, "  ", 2,
                  tdm_swatches_rising(swatches)
                      ? "The swatches get lighter with their level: they make a level scale. Levels between "
                        "two of them are filled in; beyond the first and the last there are none."
                      : "The swatches don't get lighter with their level: no level scale can be made of "
                        "them as they are marked. Check the levels of those out of order, mark them anew, or "
                        "leave them out.");
    put_warnings(&page, swatches);
    return tdm_page_finish(&page, out, error);
}
