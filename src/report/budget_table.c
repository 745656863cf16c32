/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Why an uncertainty is as large as it is: for each figure its components, largest first. */
#include <math.h>

#include "report/grid.h"
#include "report/page.h"
#include "report/words.h"

static const double least_share = 0.005; /* of the variance: smaller ones would show as 0 % */

/* The parts' order by size; equal ones stay in theirs. */
static void order(const tdm_budget *budget, int out[TDM_PARTS])
{
    for (int i = 0; i < TDM_PARTS; i++) {
        int place = i;
        for (; place > 0 && budget->part[out[place - 1]] < budget->part[i]; place--)
            out[place] = out[place - 1];
        out[place] = i;
    }
}

/* Two digits that count, of a u or of a part of one. */
static int digits_for(double size)
{
    int digits = 0;
    for (double least = 10; digits < 4 && size < least; least /= 10)
        digits++;
    return digits;
}

static void add_part(tdm_grid *grid, tdm_part part, double size, double variance, int digits)
{
    tdm_grid_row *row = tdm_grid_add(grid);
    if (!row)
        return;
    tdm_text_format(&row->label, "  %s", tdm_part_word(part));
    tdm_text_number(&row->cells[0], size, digits, "");
    tdm_text_number(&row->cells[1], 100 * size * size / variance, 0, "");
    tdm_text_add(&row->cells[1], " %");
}

static void add_figure(tdm_grid *grid, const tdm_page *page, const tdm_figure *figure, tdm_value value,
                       const tdm_budget *budget)
{
    tdm_grid_row *row = tdm_grid_add(grid);
    if (!row)
        return;
    const double variance = value.u * value.u / 4;
    const int digits = digits_for(value.u);
    row->apart = grid->count > 2; /* not right under the headings */
    tdm_text_add(&row->label, figure->label);
    if (figure->unit[0] && figure->unit[0] != 'l')
        tdm_text_format(&row->label, ", %s", figure->unit);
    tdm_text_number(&row->cells[0], value.value, digits, "");
    tdm_text_add(&row->cells[1], page->style.unicode ? "\u00B1 " : "+- ");
    tdm_text_number(&row->cells[1], value.u, digits, "");
    int by_size[TDM_PARTS];
    order(budget, by_size);
    for (int i = 0; i < TDM_PARTS; i++) {
        const double size = budget->part[by_size[i]];
        if (variance > 0 && size * size / variance >= least_share)
            add_part(grid, (tdm_part)by_size[i], size, variance, digits + 1);
    }
}

static void put_zone(tdm_page *page, const tdm_zone_reading *zone, const char *title)
{
    tdm_grid grid = {.cells = 2};
    size_t count = 0;
    const tdm_figure *figures = tdm_figures(&count);
    tdm_grid_row *headings = tdm_grid_add(&grid);
    if (headings) {
        tdm_text_add(&headings->cells[0], "size");
        tdm_text_add(&headings->cells[1], "share");
    }
    const tdm_block block = {.before = zone};
    for (size_t i = 0; i < count; i++) {
        tdm_budget budget;
        tdm_value value;
        if (tdm_block_shows(&block, &figures[i]) && tdm_zone_value(zone, &figures[i], &value) &&
            tdm_zone_budget(zone, &figures[i], &budget))
            add_figure(&grid, page, &figures[i], value, &budget);
    }
    tdm_page_line(page);
    tdm_page_rule(page, title);
    tdm_grid_print(&grid, page);
}

tdm_code tdm_reading_budget(const tdm_reading *reading, const tdm_text_style *style, char **out,
                            tdm_error *error)
{
    tdm_page page = tdm_page_start(style);
    tdm_page_rule(&page, "what the uncertainties are made of");
    tdm_page_wrap(
        &page, "  ", 2,
        "Beside each figure its expanded uncertainty (coverage factor 2); below it the components as "
        "standard uncertainties, largest first, each with its share of the variance (JCGM 100).");
    for (size_t i = 0; i < tdm_reading_zone_count(reading); i++)
        put_zone(&page, tdm_reading_zone(reading, i), tdm_zone_name(tdm_reading_zone(reading, i)));
    put_zone(&page, tdm_reading_head(reading), tdm_head_title);
    return tdm_page_finish(&page, out, error);
}
