/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The map of a plan: every zone laid straight, root up. */
#include "report/plan_map.h"

#include <math.h>
#include <stdlib.h>

#include "base/fail.h"
#include "base/text.h"
#include "measure/reading_parts.h"
#include "report/picture.h"
#include "report/picture_words.h"
#include "report/words.h"
#include "tidemark/report.h"

static const double margin = 24, head = 136, between = 28, least_panel = 320;
static const double most_height = 900, most_width = 2400, least_per_mm = 1, most_per_mm = 4;
static const double small = 10; /* the foot's letters */
static const double paper = 0.93;

typedef struct map {
    const tdm_plan *plan;
    tdm_map_panel *panels;
    size_t *numbers; /* of the zones in the marks, from 1 */
    size_t count;
    const char *legend;
    double width, height, bottom;
} map;

double tdm_map_panel_width(const tdm_map_panel *panel)
{
    const double pictures = panel->zone->about.planned ? 2 : 1;
    return fmax(TDM_MAP_RULER + TDM_MAP_BAR + pictures * panel->width + TDM_MAP_GAP, least_panel);
}

static double drawn_width(const tdm_planned_zone *zone)
{
    return (double)zone->hair.strip.cols * zone->hair.strip.cell;
}

static double drawn_height(const tdm_planned_zone *zone)
{
    return (double)zone->hair.strip.rows * zone->hair.strip.cell;
}

/* One scale for all, so that lengths can be compared. */
static double choose_scale(const tdm_plan *plan)
{
    double tallest = 0, across = 0;
    for (size_t i = 0; i < plan->zone_count; i++) {
        if (!plan->zones[i].has_hair)
            continue;
        tallest = fmax(tallest, drawn_height(&plan->zones[i]));
        across += 2 * drawn_width(&plan->zones[i]);
    }
    const double fits = fmin(most_height / tallest, most_width / across);
    return fmin(fmax(fits, least_per_mm), most_per_mm);
}

static void place_panels(map *to)
{
    const double per_mm = choose_scale(to->plan);
    double left = margin;
    for (size_t i = 0; i < to->plan->zone_count; i++) {
        const tdm_planned_zone *zone = &to->plan->zones[i];
        if (!zone->has_hair)
            continue;
        tdm_map_panel *panel = &to->panels[to->count];
        *panel = (tdm_map_panel){.zone = zone,
                                 .left = left,
                                 .top = margin + head,
                                 .per_mm = per_mm,
                                 .width = floor(drawn_width(zone) * per_mm),
                                 .height = floor(drawn_height(zone) * per_mm)};
        to->numbers[to->count++] = i + 1;
        left += tdm_map_panel_width(panel) + between;
        to->bottom = fmax(to->bottom, panel->top + panel->height);
    }
    to->width = left - between + margin;
}

/* Only what is drawn is explained. */
static void add_legend(tdm_text *text, const map *of)
{
    bool hatched = false, planned = false, scaled = false;
    for (size_t i = 0; i < of->count; i++) {
        const tdm_planned_zone *zone = of->panels[i].zone;
        hatched = hatched || isfinite(zone->light_from);
        planned = planned || zone->about.planned;
        scaled = scaled || zone->hair.strip.scaled;
    }
    if (hatched)
        tdm_text_add(text, "hatched: at the level named above it or lighter; don't lighten it. ");
    if (planned)
        tdm_text_add(text,
                     "bar beside the hair: how much of the root shade is left there. dashes: nearly full "
                     "down to the upper, almost out by the lower; the shade shows on lighter hair alone. ");
    if (scaled)
        tdm_text_add(text, "numbers: mm from the root. ");
    tdm_text_add(text, "pictures are looks, not measurements.");
}

static double put_foot(cairo_t *cairo, const map *to)
{
    const double width = to->width - 2 * margin, top = to->bottom + margin;
    const double used = tdm_picture_paragraph(cairo, to->legend, margin, top, width, small);
    return used + 8 + tdm_picture_paragraph(cairo, tdm_caution, margin, top + used + 8, width, small);
}

static tdm_code draw(const map *it, cairo_surface_t *surface, tdm_error *error)
{
    cairo_t *cairo = cairo_create(surface);
    tdm_code code = TDM_OK;
    cairo_set_source_rgb(cairo, paper, paper, paper);
    cairo_paint(cairo);
    cairo_surface_flush(surface);
    for (size_t i = 0; code == TDM_OK && i < it->count; i++)
        code = tdm_map_hair(&it->panels[i], surface, error);
    cairo_surface_mark_dirty(surface);
    cairo_set_line_join(cairo, CAIRO_LINE_JOIN_ROUND);
    cairo_set_line_cap(cairo, CAIRO_LINE_CAP_ROUND);
    for (size_t i = 0; code == TDM_OK && i < it->count; i++) {
        tdm_map_rule(cairo, &it->panels[i]);
        if (!tdm_map_title(cairo, &it->panels[i], it->numbers[i]))
            code = tdm_fail_memory(error, it->plan->reading->file);
    }
    (void)put_foot(cairo, it);
    const cairo_status_t status = cairo_status(cairo);
    cairo_destroy(cairo);
    return code == TDM_OK && status != CAIRO_STATUS_SUCCESS ? tdm_picture_fail(status, "the map", error)
                                                            : code;
}

static tdm_code draw_map(map *it, uint8_t **bytes, size_t *size, tdm_error *error)
{
    it->height = ceil(it->bottom + put_foot(NULL, it) + 2 * margin);
    cairo_surface_t *surface =
        cairo_image_surface_create(CAIRO_FORMAT_RGB24, (int)ceil(it->width), (int)it->height);
    tdm_code code = TDM_OK;
    if (cairo_surface_status(surface) != CAIRO_STATUS_SUCCESS)
        code = tdm_picture_fail(cairo_surface_status(surface), it->plan->reading->file, error);
    if (code == TDM_OK)
        code = draw(it, surface, error);
    if (code == TDM_OK)
        code = tdm_picture_png(surface, it->plan->reading->file, bytes, size, error);
    cairo_surface_destroy(surface);
    return code;
}

static tdm_code lay_out(map *it, uint8_t **bytes, size_t *size, tdm_error *error)
{
    tdm_text text = {0};
    place_panels(it);
    if (it->count == 0)
        return tdm_fail(error, TDM_ERR_UNUSABLE, it->plan->reading->file, "map",
                        "no zone could be read, so that there is nothing to draw");
    add_legend(&text, it);
    it->legend = text.data;
    const tdm_code code =
        text.failed ? tdm_fail_memory(error, it->plan->reading->file) : draw_map(it, bytes, size, error);
    tdm_text_free(&text);
    return code;
}

tdm_code tdm_plan_map(const tdm_plan *plan, uint8_t **bytes, size_t *size, tdm_error *error)
{
    map it = {.plan = plan,
              .panels = calloc(plan->zone_count, sizeof *it.panels),
              .numbers = calloc(plan->zone_count, sizeof *it.numbers)};
    const tdm_code code = it.panels && it.numbers ? lay_out(&it, bytes, size, error)
                                                  : tdm_fail_memory(error, plan->reading->file);
    free(it.panels);
    free(it.numbers);
    return code;
}
