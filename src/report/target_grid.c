/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/target_grid.h"

#include <string.h>

enum {
    ROWS = 4,
    COLUMNS = 6,
    NUMBER = 3, /* "12 " before a name */
    WIDEST = 16,
    NAMED = NUMBER + 8 /* the longest word of a name */
};

static bool kept(const tdm_target_patch *patch)
{
    return strcmp(patch->state, "kept") == 0;
}

/* ASCII of at most `columns`, then spaces up to there and one more; none after a row's last. */
static void put_cell(tdm_page *page, const tdm_text *text, size_t columns, bool last)
{
    tdm_text_add_bytes(&page->text, text->data ? text->data : "", text->size);
    tdm_page_spaces(page, last || text->size > columns ? 0 : columns + 1 - text->size);
    page->text.failed = page->text.failed || text->failed;
}

/* Bytes of a name that stand on its first line: all, or up to the last space before `room`. */
static size_t first_line(const char *name, size_t room)
{
    size_t cut = strlen(name);
    while (cut > room) {
        do
            cut--;
        while (cut > 0 && name[cut] != ' ');
    }
    return cut;
}

/* Its number, and of its name the first line; or the second, under the first. */
static void add_name(tdm_text *cell, const char *name, size_t index, size_t columns, bool second)
{
    if (columns < NAMED) {
        tdm_text_format(cell, "%zu", index + 1);
        return;
    }
    const size_t cut = first_line(name, columns - NUMBER);
    if (!second)
        tdm_text_format(cell, "%-2zu %.*s", index + 1, (int)cut, name);
    else if (name[cut])
        tdm_text_format(cell, "%*s%s", NUMBER, "", name + cut + 1);
}

static bool any_second(const tdm_target_patch *row, size_t columns)
{
    bool any = false;
    for (size_t i = 0; columns >= NAMED && i < COLUMNS; i++)
        any = any || first_line(row[i].name, columns - NUMBER) < strlen(row[i].name);
    return any;
}

/* A line ends with its last cell that isn't empty. */
static void put_names(tdm_page *page, const tdm_target_patch *row, size_t from, size_t columns, bool second)
{
    tdm_text cells[COLUMNS] = {{0}};
    size_t count = 0;
    for (size_t i = 0; i < COLUMNS; i++) {
        add_name(&cells[i], row[i].name, from + i, columns, second);
        if (cells[i].size > 0)
            count = i + 1;
    }
    tdm_page_spaces(page, 2);
    for (size_t i = 0; i < COLUMNS; i++) {
        if (i < count)
            put_cell(page, &cells[i], columns, i + 1 == count);
        page->text.failed = page->text.failed || cells[i].failed; /* one that failed looks empty */
        tdm_text_free(&cells[i]);
    }
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
            tdm_text_number(&cell, row[i].left_out, 1, "-");
        else
            tdm_text_add(&cell, "x");
        if (!kept(&row[i]))
            tdm_page_bold(page);
        put_cell(page, &cell, columns, i + 1 == COLUMNS);
        if (!kept(&row[i]))
            tdm_page_plain(page);
        tdm_text_free(&cell);
    }
    tdm_page_line(page);
}

/* Where the grid has no room for them. */
static void put_list(tdm_page *page, const tdm_target_reading *target)
{
    tdm_text text = {0};
    for (size_t i = 0; i < TDM_TARGET_PATCHES; i++) {
        tdm_target_patch patch;
        tdm_target_patch_at(target, i, &patch);
        tdm_text_format(&text, "%s%zu %s", i > 0 ? ", " : "", i + 1, patch.name);
    }
    tdm_page_line(page);
    tdm_page_put(page, &text, "  ", 2);
}

void tdm_page_patches(tdm_page *page, const tdm_target_reading *target)
{
    const size_t room = (page->style.width - 2) / COLUMNS - 1;
    const size_t columns = room < WIDEST ? room : WIDEST;
    for (size_t r = 0; r < ROWS; r++) {
        tdm_target_patch row[COLUMNS];
        for (size_t i = 0; i < COLUMNS; i++)
            tdm_target_patch_at(target, r * COLUMNS + i, &row[i]);
        put_names(page, row, r * COLUMNS, columns, false);
        if (any_second(row, columns))
            put_names(page, row, r * COLUMNS, columns, true);
        if (page->style.truecolour)
            put_colours(page, row, columns);
        put_errors(page, row, columns);
    }
    if (columns < NAMED)
        put_list(page, target);
}
