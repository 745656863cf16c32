/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/target_grid.h"

#include <string.h>

enum { ROWS = 4, COLUMNS = 6, WIDEST = 14, NARROW = 10 };

static bool kept(const tdm_target_patch *patch)
{
    return strcmp(patch->state, "kept") == 0;
}

/* At most `columns` of ASCII, then spaces up to there and one more; none after a row's last. */
static void put_cell(tdm_page *page, const char *text, size_t columns, bool last)
{
    const size_t length = strlen(text);
    const size_t shown = length < columns ? length : columns;
    tdm_text_add_bytes(&page->text, text, shown);
    tdm_page_spaces(page, last ? 0 : columns + 1 - shown);
}

static void put_names(tdm_page *page, const tdm_target_patch *row, size_t columns)
{
    tdm_page_spaces(page, 2);
    for (size_t i = 0; i < COLUMNS; i++)
        put_cell(page, row[i].name, columns, i + 1 == COLUMNS);
    tdm_page_line(page);
}

static void put_colours(tdm_page *page, const tdm_target_patch *row, size_t columns)
{
    tdm_page_spaces(page, 2);
    for (size_t i = 0; i < COLUMNS; i++) {
        tdm_page_swatch(page, row[i].reference_lab, columns / 2);
        tdm_page_swatch(page, row[i].after_lab, columns / 2);
        tdm_page_spaces(page, i + 1 == COLUMNS ? 0 : columns % 2 + 1);
    }
    tdm_page_line(page);
}

static void put_errors(tdm_page *page, const tdm_target_patch *row, size_t columns)
{
    tdm_page_spaces(page, 2);
    for (size_t i = 0; i < COLUMNS; i++) {
        tdm_text cell = {0};
        if (kept(&row[i]))
            tdm_text_number(&cell, row[i].de00_after, 1, "-");
        else
            tdm_text_add(&cell, columns < NARROW ? "x" : row[i].state);
        if (!kept(&row[i]))
            tdm_page_bold(page);
        put_cell(page, cell.data ? cell.data : "", columns, i + 1 == COLUMNS);
        if (!kept(&row[i]))
            tdm_page_plain(page);
        page->text.failed = page->text.failed || cell.failed;
        tdm_text_free(&cell);
    }
    tdm_page_line(page);
}

void tdm_page_patches(tdm_page *page, const tdm_target_reading *target)
{
    const size_t room = (page->style.width - 2) / COLUMNS - 1;
    const size_t columns = room < WIDEST ? room : WIDEST;
    for (size_t r = 0; r < ROWS; r++) {
        tdm_target_patch row[COLUMNS];
        for (size_t i = 0; i < COLUMNS; i++)
            tdm_target_patch_at(target, r * COLUMNS + i, &row[i]);
        if (columns >= NARROW)
            put_names(page, row, columns);
        if (page->style.truecolour)
            put_colours(page, row, columns);
        put_errors(page, row, columns);
    }
}
