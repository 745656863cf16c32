/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/grid.h"

#include <stdlib.h>
#include <string.h>

#include "report/plain.h"

tdm_grid_row *tdm_grid_add(tdm_grid *grid)
{
    if (grid->count == grid->room) {
        const size_t room = grid->room ? 2 * grid->room : 32;
        tdm_grid_row *rows = realloc(grid->rows, room * sizeof *rows);
        if (!rows) {
            grid->failed = true;
            return NULL;
        }
        grid->rows = rows;
        grid->room = room;
    }
    grid->rows[grid->count] = (tdm_grid_row){0};
    return &grid->rows[grid->count++];
}

typedef struct layout {
    size_t label;
    size_t cells[TDM_GRID_CELLS];
    size_t gap;
} layout;

/* Narrower than this, labels beside cells would be few. */
static const size_t least_label = 8;

static size_t columns_of(const tdm_text *text)
{
    return text->data ? tdm_columns(text->data, text->size) : 0;
}

static void widen(size_t *width, const tdm_text *text)
{
    const size_t columns = columns_of(text);
    if (columns > *width)
        *width = columns;
}

static layout measure(const tdm_grid *grid, size_t page_width)
{
    layout it = {.gap = 2};
    for (size_t i = 0; i < grid->count; i++) {
        widen(&it.label, &grid->rows[i].label);
        for (size_t c = 0; c < grid->cells; c++)
            widen(&it.cells[c], &grid->rows[i].cells[c]);
    }
    size_t cells = 0;
    for (size_t c = 0; c < grid->cells; c++)
        cells += it.gap + it.cells[c];
    if (2 + cells > page_width) {
        it.gap = 1;
        cells -= grid->cells;
    }
    const size_t room = page_width > 2 + cells ? page_width - 2 - cells : 0;
    if (it.label > room)
        it.label = room < least_label ? 0 : room;
    return it;
}

static void print_cells(const tdm_grid *grid, const tdm_grid_row *row, const layout *it, tdm_page *page)
{
    for (size_t c = 0; c < grid->cells; c++) {
        const tdm_text *cell = &row->cells[c];
        const bool strong = row->strong && c + 1 == grid->cells;
        tdm_page_spaces(page, it->gap + it->cells[c] - columns_of(cell));
        if (strong)
            tdm_page_bold(page);
        tdm_text_add_bytes(&page->text, cell->data ? cell->data : "", cell->size);
        if (strong)
            tdm_page_plain(page);
    }
    tdm_page_line(page);
}

/* On lines of its own. */
static void print_above(const char *label, tdm_page *page)
{
    const size_t spaces = strspn(label, " ");
    tdm_text lead = {0};
    tdm_text_format(&lead, "%*s", (int)(2 + spaces), "");
    tdm_page_wrap(page, lead.data ? lead.data : "", 4 + spaces, label + spaces);
    page->text.failed = page->text.failed || lead.failed;
    tdm_text_free(&lead);
}

static void print_row(const tdm_grid *grid, const tdm_grid_row *row, const layout *it, tdm_page *page)
{
    const char *label = row->label.data ? row->label.data : "";
    const size_t columns = columns_of(&row->label);
    const bool beside = columns <= it->label;
    if (row->apart)
        tdm_page_line(page);
    if (!beside)
        print_above(label, page);
    if (it->label > 0)
        tdm_page_spaces(page, 2);
    if (beside)
        tdm_text_add_bytes(&page->text, label, row->label.size);
    tdm_page_spaces(page, beside ? it->label - columns : it->label);
    print_cells(grid, row, it, page);
}

static void clear(tdm_grid *grid)
{
    for (size_t i = 0; i < grid->count; i++) {
        tdm_text_free(&grid->rows[i].label);
        for (size_t c = 0; c < TDM_GRID_CELLS; c++)
            tdm_text_free(&grid->rows[i].cells[c]);
    }
    free(grid->rows);
    *grid = (tdm_grid){.cells = grid->cells};
}

void tdm_grid_print(tdm_grid *grid, tdm_page *page)
{
    const layout it = measure(grid, page->style.width);
    page->text.failed = page->text.failed || grid->failed;
    for (size_t i = 0; i < grid->count; i++) {
        const tdm_grid_row *row = &grid->rows[i];
        print_row(grid, row, &it, page);
        page->text.failed = page->text.failed || row->label.failed;
        for (size_t c = 0; c < TDM_GRID_CELLS; c++)
            page->text.failed = page->text.failed || row->cells[c].failed;
    }
    clear(grid);
}
