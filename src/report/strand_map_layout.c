/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where each zone stands on the page. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "report/strand_map_parts.h"

static const double margin = 24, between = 30, least_field = 480, least_pitch = 140;
static const double most_tall = 1000, most_wide = 2400, most_scale = 5, enough = 2.5;
static const double most_area = 4e7; /* pixels of the page */

const tdm_strand_piece *tdm_strand_piece_of(const tdm_strand_page *page, const tdm_strand_panel *panel)
{
    return &page->views[panel->view]->pieces[panel->piece];
}

tdm_strand_place tdm_strand_place_of(const tdm_strand_view *view, const tdm_strand_piece *piece,
                                     cairo_t *cairo)
{
    const struct tdm_zone_reading *zone = &view->reading->zones[piece->index];
    const bool usable = view->reading->usable;
    const bool marked = usable && zone->strands.separable && zone->strands.map.light;
    return (tdm_strand_place){.cairo = cairo,
                              .piece = piece,
                              .map = marked ? &zone->strands.map : NULL,
                              .judged = usable && piece->skip.windows > 0};
}

static void add_panel(tdm_strand_page *page, size_t view, size_t piece)
{
    page->panels[page->count++] = (tdm_strand_panel){.view = view, .piece = piece};
}

static const char *name_of(const tdm_strand_view *view, size_t piece)
{
    return view->reading->zones[view->pieces[piece].index].name;
}

/* The piece of that name, or count. */
static size_t find(const tdm_strand_view *view, const char *name)
{
    size_t i = 0;
    while (i < view->count && strcmp(name_of(view, i), name) != 0)
        i++;
    return i;
}

/* After beside before; what the first photograph hasn't comes last. */
static void list_panels(tdm_strand_page *page)
{
    const tdm_strand_view *before = page->views[0], *after = page->view_count > 1 ? page->views[1] : NULL;
    for (size_t i = 0; i < before->count; i++) {
        add_panel(page, 0, i);
        const size_t same = after ? find(after, name_of(before, i)) : 0;
        if (after && same < after->count)
            add_panel(page, 1, same);
    }
    for (size_t i = 0; after && i < after->count; i++) {
        if (find(before, name_of(after, i)) == before->count)
            add_panel(page, 1, i);
    }
}

/* One scale for all, so that lengths can be compared: all in one row where that leaves it large enough, else
 * the widest zone in a row of its own or with others. */
static double choose_scale(const tdm_strand_page *page)
{
    double tallest = 0, widest = 0, all = 0;
    for (size_t i = 0; i < page->count; i++) {
        const tdm_strand_piece *piece = tdm_strand_piece_of(page, &page->panels[i]);
        tallest = fmax(tallest, (double)piece->rows * piece->cell);
        widest = fmax(widest, piece->across);
        all += piece->across;
    }
    const double each = TDM_STRAND_RULER + 2 * TDM_STRAND_GAP + 3, count = (double)page->count;
    const double row = (most_wide - 2 * margin - count * each - (count - 1) * between) / (3 * all);
    const double alone = (most_wide - 2 * margin - each) / (3 * widest);
    return fmin(fmin(most_tall / tallest, row >= enough ? row : alone), most_scale);
}

/* Whether a panel is the other half of the one before. */
static bool belongs(const tdm_strand_page *page, size_t i)
{
    return i > 0 && page->panels[i].view == 1 && page->panels[i - 1].view == 0 &&
           strcmp(name_of(page->views[1], page->panels[i].piece),
                  name_of(page->views[0], page->panels[i - 1].piece)) == 0;
}

static double size_panel(const tdm_strand_page *page, tdm_strand_panel *panel)
{
    const double width = tdm_strand_piece_of(page, panel)->across * page->scale;
    panel->pitch = ceil(fmax(width + TDM_STRAND_GAP, least_pitch));
    panel->width = fmax(TDM_STRAND_RULER + 2 * panel->pitch + ceil(width), least_field);
    return panel->width;
}

/* In rows, a pair in one row where it fits. */
static void place_panels(tdm_strand_page *page)
{
    double left = margin, top = margin, tall = 0;
    page->width = 0;
    for (size_t i = 0; i < page->count; i++) {
        tdm_strand_panel *panel = &page->panels[i];
        double width = size_panel(page, panel);
        if (i + 1 < page->count && belongs(page, i + 1))
            width += between + size_panel(page, &page->panels[i + 1]);
        if (left > margin && (!belongs(page, i) || left + width > most_wide) &&
            left + width > most_wide - margin) {
            left = margin;
            top += tall + between;
            tall = 0;
        }
        const tdm_strand_piece *piece = tdm_strand_piece_of(page, panel);
        panel->left = left;
        panel->top = top;
        left += panel->width + between;
        tall = fmax(tall, TDM_STRAND_HEAD + ceil((double)piece->rows * piece->cell * page->scale));
        page->width = fmax(page->width, left - between + margin);
        page->bottom = top + tall;
    }
}

tdm_code tdm_strand_lay_out(tdm_strand_page *page, tdm_error *error)
{
    size_t most = 0;
    for (size_t i = 0; i < page->view_count; i++)
        most += page->views[i]->count;
    const char *file = page->views[0]->reading->file;
    if (most == 0)
        return tdm_fail(error, TDM_ERR_UNUSABLE, file, "strands",
                        "no zone could be read, so that there is nothing to draw");
    page->panels = calloc(most, sizeof *page->panels);
    if (!page->panels)
        return tdm_fail_memory(error, file);
    list_panels(page);
    page->scale = choose_scale(page);
    place_panels(page);
    while (page->width * page->bottom > most_area && page->scale > 0.1) {
        page->scale *= 0.8;
        place_panels(page);
    }
    return TDM_OK;
}
