/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where in a zone the few places lie that a figure counts, in words. */
#include <math.h>

#include "report/page.h"

enum { MOST_IN_WORDS = 4 };

static void add_place(tdm_text *text, const tdm_place *place)
{
    tdm_text_add(text, "at ");
    tdm_text_number(text, place->mm, 0, "");
    tdm_text_add(text, " mm, ");
    tdm_text_number(text, fabs(place->across_mm), 0, "");
    tdm_text_add(text, place->across_mm < 0 ? " mm to the left" : " mm to the right");
}

static void put_places(tdm_page *page, const tdm_zone_reading *zone, const tdm_figure *figure,
                       const char *when)
{
    size_t count = 0;
    const tdm_place *places = tdm_zone_places(zone, figure, &count);
    if (!places || count == 0 || count > MOST_IN_WORDS)
        return;
    tdm_text text = {0};
    tdm_text_format(&text, "%s%s, from the root and from the path as seen from the root: ", figure->label,
                    when);
    for (size_t i = 0; i < count; i++) {
        tdm_text_add(&text, i > 0 ? "; " : "");
        add_place(&text, &places[i]);
    }
    tdm_page_wrap(page, "  ", 2, text.data ? text.data : "");
    page->text.failed = page->text.failed || text.failed;
    tdm_text_free(&text);
}

void tdm_page_places(tdm_page *page, const tdm_block *block)
{
    size_t count = 0;
    const tdm_figure *figures = tdm_figures(&count);
    for (size_t i = 0; i < count; i++) {
        put_places(page, block->before, &figures[i], block->after ? " before" : "");
        if (block->after)
            put_places(page, block->after, &figures[i], " after");
    }
}
