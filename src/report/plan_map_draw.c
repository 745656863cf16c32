/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "base/text.h"
#include "report/page.h"
#include "report/picture_words.h"
#include "report/plan_map.h"

static const double ink = 0.1;
static const double title_height = 18, word_height = 12, line_height = 20;
enum { LINES = 4 };

static double to_y(const tdm_map_panel *panel, double from_root_mm)
{
    return panel->top + (from_root_mm - panel->zone->hair.strip.root) * panel->per_mm;
}

/* As broad as the share of the shade that is left there, in its colour. */
static void put_bar(cairo_t *cairo, const tdm_map_panel *panel)
{
    const tdm_planned_zone *zone = panel->zone;
    const double left = panel->left + TDM_MAP_RULER, most = TDM_MAP_BAR - 6;
    unsigned rgb[3];
    cairo_move_to(cairo, left, panel->top);
    for (double y = 0; y <= panel->height; y += 1) {
        const double cover = tdm_melt_cover(&zone->melt, y / panel->per_mm);
        if (cover < 0.01)
            break;
        cairo_line_to(cairo, left + most * cover, panel->top + y);
        cairo_line_to(cairo, left + most * cover, panel->top + y + 1);
    }
    double x, y;
    cairo_get_current_point(cairo, &x, &y);
    cairo_line_to(cairo, left, y);
    cairo_close_path(cairo);
    tdm_lab_to_srgb8(zone->melt.lab, rgb);
    cairo_set_source_rgb(cairo, rgb[0] / 255.0, rgb[1] / 255.0, rgb[2] / 255.0);
    cairo_fill_preserve(cairo);
    cairo_set_source_rgb(cairo, ink, ink, ink);
    cairo_set_line_width(cairo, 1);
    cairo_stroke(cairo);
}

/* A dashed line over bar and hair: black gaps between white dashes. */
static void put_place(cairo_t *cairo, const tdm_map_panel *panel, double mm)
{
    const double y = round(to_y(panel, mm)) + 0.5, left = panel->left + TDM_MAP_RULER;
    const double dash[] = {8, 6};
    if (y <= panel->top || y >= panel->top + panel->height)
        return;
    for (int white = 0; white < 2; white++) {
        cairo_set_dash(cairo, dash, white ? 2 : 0, 0);
        cairo_set_source_rgb(cairo, white, white, white);
        cairo_set_line_width(cairo, white ? 2 : 3);
        cairo_move_to(cairo, left, y);
        cairo_line_to(cairo, left + TDM_MAP_BAR + 2 * panel->width + TDM_MAP_GAP, y);
        cairo_stroke(cairo);
    }
    cairo_set_dash(cairo, dash, 0, 0);
}

void tdm_map_rule(cairo_t *cairo, const tdm_map_panel *panel)
{
    const tdm_zone_plan *about = &panel->zone->about;
    const tdm_strip *strip = &panel->zone->hair.strip;
    if (strip->scaled)
        tdm_picture_ruler(cairo, panel->left + TDM_MAP_RULER - 6, panel->top, panel->per_mm, strip->root,
                          strip->length);
    if (!about->planned)
        return;
    put_bar(cairo, panel);
    put_place(cairo, panel, about->shade.feather_from_mm);
    put_place(cairo, panel, about->shade.feather_to_mm);
}

static void add_mm(tdm_text *text, const char *lead, double mm)
{
    tdm_text_add(text, lead);
    tdm_text_number(text, mm, 0, "-");
    tdm_text_add(text, " mm");
}

static void add_order(tdm_text *text, unsigned order)
{
    static const char *const words[] = {"first", "second", "third", "fourth", "fifth", "sixth"};
    if (order == 0)
        return;
    if (order <= sizeof words / sizeof words[0])
        tdm_text_format(text, ", do it %s", words[order - 1]);
    else
        tdm_text_format(text, ", do it as number %u", order);
}

static void fill_lines(const tdm_map_panel *panel, size_t number, tdm_text lines[LINES])
{
    const tdm_zone_plan *about = &panel->zone->about;
    const bool possible = strcmp(about->need, TDM_PLAN_IMPOSSIBLE) != 0;
    tdm_picture_name(&lines[0], about->name, number);
    tdm_text_format(&lines[1], "%s%s", possible ? "blend " : "", about->need);
    add_order(&lines[1], about->order);
    if (about->planned) {
        add_mm(&lines[2], "nearly full to ", about->shade.feather_from_mm);
        add_mm(&lines[2], ", almost out by ", about->shade.feather_to_mm);
        tdm_text_add(&lines[2], ", level ");
        tdm_text_number(&lines[2], about->shade.level.value, 1, "-");
    }
    if (isfinite(about->light.share.value)) {
        tdm_text_number(&lines[3], 100 * about->light.share.value, 0, "-");
        tdm_text_add(&lines[3], " % (give or take ");
        tdm_text_number(&lines[3], 100 * about->light.share.u, 0, "-");
        tdm_text_add(&lines[3], ") at level ");
        tdm_text_number(&lines[3], about->light.target_level, 1, "-");
        tdm_text_add(&lines[3], " or lighter");
    }
}

bool tdm_map_title(cairo_t *cairo, const tdm_map_panel *panel, size_t number)
{
    tdm_text lines[LINES] = {{0}};
    bool good = true;
    const double left = panel->left + TDM_MAP_RULER;
    double y = panel->top - LINES * line_height - 26;
    fill_lines(panel, number, lines);
    for (size_t i = 0; i < LINES; i++) {
        if (lines[i].data)
            (void)tdm_picture_write(cairo, lines[i].data, left, y, i == 0 ? title_height : word_height,
                                    i == 0 ? 2.2 : 1.6);
        y += line_height + (i == 0 ? 8 : 0);
        good = good && !lines[i].failed;
        tdm_text_free(&lines[i]);
    }
    (void)tdm_picture_write(cairo, "now", left + TDM_MAP_BAR, panel->top - 16, 10, 1.4);
    if (panel->zone->about.planned)
        (void)tdm_picture_write(cairo, "after, simulated", left + TDM_MAP_BAR + panel->width + TDM_MAP_GAP,
                                panel->top - 16, 10, 1.4);
    return good;
}
