/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "report/overlay_words.h"
#include "report/picture_words.h"
#include "report/strand_map_parts.h"
#include "report/words.h"

static const double title_height = 24, word_height = 15, caption_height = 13, foot_height = 13;
static const double sample_side = 24, indent = 36, after_item = 6, after_block = 8;

enum { LINES = 3 };

static void add_share(tdm_text *text, const char *lead, tdm_value share)
{
    tdm_text_add(text, lead);
    tdm_text_number(text, 100 * share.value, 0, "-");
    tdm_text_add(text, " %");
    if (!isfinite(share.u))
        return;
    tdm_text_add(text, " (give or take ");
    tdm_text_number(text, 100 * share.u, 0, "-");
    tdm_text_add(text, ")");
}

static void fill_lines(const tdm_strand_page *page, const tdm_strand_panel *panel, const tdm_strand_place *at,
                       tdm_text lines[LINES])
{
    static const char *const when[] = {", before", ", after"};
    const tdm_strand_view *view = page->views[panel->view];
    const struct tdm_zone_reading *zone = &view->reading->zones[at->piece->index];
    tdm_picture_name(&lines[0], zone->name, at->piece->index + 1);
    if (page->view_count > 1)
        tdm_text_add(&lines[0], when[panel->view]);
    if (!view->reading->usable)
        tdm_text_add(&lines[1], "photograph not usable: nothing is marked");
    else if (!at->map)
        tdm_text_add(&lines[1], "light and dark strands: not separable");
    else
        add_share(&lines[1], "light strands: ", zone->strands.light_share);
    if (at->judged)
        add_share(&lines[2], "skip: ", at->piece->skip.share);
    else
        tdm_text_add(&lines[2], "skip: not told");
}

/* On a plate of its own, in the middle of a picture of the hair. */
static void put_plate(cairo_t *cairo, const char *words, double middle_x, double middle_y)
{
    const double width = tdm_words_width(words, caption_height), pad = 6;
    cairo_rectangle(cairo, round(middle_x - width / 2 - pad), round(middle_y - caption_height / 2 - pad),
                    ceil(width + 2 * pad), caption_height + 2 * pad);
    cairo_set_source_rgb(cairo, 1, 1, 1);
    cairo_fill(cairo);
    (void)tdm_picture_write(cairo, words, middle_x - width / 2, middle_y - caption_height / 2, caption_height,
                            1.7);
}

/* What isn't marked is said on the picture that would show it. */
static void put_absent(cairo_t *cairo, const tdm_strand_page *page, const tdm_strand_panel *panel,
                       const tdm_strand_place *at)
{
    const double x = panel->left + TDM_STRAND_RULER + 0.5 * at->piece->across * page->scale;
    const double y =
        panel->top + TDM_STRAND_HEAD + 0.5 * (double)at->piece->rows * at->piece->cell * page->scale;
    const bool usable = page->views[panel->view]->reading->usable;
    if (!at->map)
        put_plate(cairo, usable ? "not separable" : "not usable", x + panel->pitch, y);
    if (!at->judged)
        put_plate(cairo, "not told", x + 2 * panel->pitch, y);
}

bool tdm_strand_title(cairo_t *cairo, const tdm_strand_page *page, const tdm_strand_panel *panel)
{
    static const char *const captions[] = {"hair", "light strands", "skip map"};
    const tdm_strand_place at =
        tdm_strand_place_of(page->views[panel->view], tdm_strand_piece_of(page, panel), cairo);
    const double left = panel->left + TDM_STRAND_RULER, baseline = panel->top + TDM_STRAND_HEAD - 24;
    tdm_text lines[LINES] = {{0}};
    bool good = true;
    double y = panel->top;
    fill_lines(page, panel, &at, lines);
    cairo_save(cairo);
    cairo_rectangle(cairo, panel->left, panel->top, panel->width, TDM_STRAND_HEAD);
    cairo_clip(cairo);
    for (size_t i = 0; i < LINES; i++) {
        if (lines[i].data)
            (void)tdm_picture_write(cairo, lines[i].data, left, y, i == 0 ? title_height : word_height,
                                    i == 0 ? 3 : 2);
        y += i == 0 ? 38 : 26;
        good = good && !lines[i].failed;
        tdm_text_free(&lines[i]);
    }
    cairo_restore(cairo);
    for (size_t i = 0; i < 3; i++)
        (void)tdm_picture_write(cairo, captions[i], left + (double)i * panel->pitch, baseline, caption_height,
                                1.4);
    put_absent(cairo, page, panel, &at);
    return good;
}

/* What there is to explain. */
typedef struct shown {
    bool strands, ribbons, judged, unknown, scaled, photo;
} shown;

static shown look(const tdm_strand_page *page)
{
    shown it = {.unknown = false};
    for (size_t i = 0; i < page->count; i++) {
        const tdm_strand_view *view = page->views[page->panels[i].view];
        const tdm_strand_place at =
            tdm_strand_place_of(view, tdm_strand_piece_of(page, &page->panels[i]), NULL);
        it.strands = it.strands || at.map;
        it.ribbons = it.ribbons || (at.map && at.map->ribbon_count > 0);
        it.judged = it.judged || at.judged;
        it.unknown = it.unknown || !at.judged || at.piece->skip.from > 0;
        it.scaled = it.scaled || at.piece->scaled;
        it.photo = it.photo || view->photo.surface;
    }
    return it;
}

typedef struct column {
    cairo_t *cairo;
    double left, top, width;
} column;

static void put_item(column *to, tdm_strand_sample_kind which, const char *words)
{
    if (to->cairo)
        tdm_strand_sample(to->cairo, which, to->left, to->top, sample_side);
    const double used = tdm_picture_paragraph(to->cairo, words, to->left + indent, to->top + 4,
                                              to->width - indent, foot_height);
    to->top += fmax(used, sample_side) + after_item;
}

static void put_words(column *to, const char *words)
{
    to->top += after_block;
    to->top += tdm_picture_paragraph(to->cairo, words, to->left, to->top, to->width, foot_height);
}

/* Which rule the map is drawn by. */
static void add_rule(tdm_text *text, const tdm_strand_view *view)
{
    tdm_text_add(text, "skip: already light, isn't to be lightened again. here: ");
    if (!isfinite(view->skip_level)) {
        tdm_text_add(text, "places with more light hair than dark, light and dark as each zone's own strands "
                           "part.");
        return;
    }
    tdm_text_add(text, "places whose own colour, over about a millimetre of a strand, is at level ");
    tdm_text_number(text, view->skip_level, 1, "-");
    tdm_text_format(text, " or lighter (%s).", tdm_reading_level_scale(view->reading));
}

static void put_strand_items(column *to, const shown *what)
{
    if (what->strands)
        put_item(to, TDM_STRAND_LIGHT, "light strands; dark ones are dimmed beside them.");
    if (what->ribbons) {
        put_item(to, TDM_STRAND_RIBBON, "a ribbon: light strands side by side, followed along the hair.");
        put_item(to, TDM_STRAND_START, "where a ribbon becomes light.");
    }
}

static void put_skip_items(column *to, const shown *what, const char *rule)
{
    if (what->judged) {
        put_item(to, TDM_STRAND_SKIP, rule);
        if (what->photo)
            put_item(to, TDM_STRAND_HATCH, "the same on the photograph.");
        put_item(to, TDM_STRAND_MAY, "darker hair, in grey: may be lightened, as far as colour can tell.");
    }
    if (what->unknown)
        put_item(to, TDM_STRAND_UNKNOWN, "not told here.");
}

bool tdm_strand_foot(cairo_t *cairo, const tdm_strand_page *page, double left, double top, double width,
                     double *height)
{
    const shown what = look(page);
    column to = {.cairo = cairo, .left = left, .top = top, .width = width};
    tdm_text rule = {0};
    add_rule(&rule, page->views[0]);
    put_strand_items(&to, &what);
    put_skip_items(&to, &what, rule.data ? rule.data : "");
    put_words(&to, what.scaled
                       ? "shares: of the hair that is told. numbers: mm from the root. pictures are looks, "
                         "not measurements."
                       : "shares: of the hair that is told. pictures are looks, not measurements.");
    put_words(&to, tdm_caution);
    *height = to.top - top;
    const bool good = !rule.failed;
    tdm_text_free(&rule);
    return good;
}
