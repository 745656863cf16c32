/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is drawn over hair, straight or on the photograph. */
#include <math.h>

#include "report/strand_map_parts.h"

static const double least_light = 0.5; /* share of light hair from which a place is marked */
static const double tint_strength[2] = {0.70, 0.55},
                    shade_strength[2] = {0.45, 0.25}; /* straight, on the photograph */

/* A place from the path's start and the strip's left edge, on the picture. The strip's left is that of the
 * way from root to ends: with the root up it lies at the right, as on hair that hangs down. */
static void to_picture(const tdm_strand_place *at, double along, double from_left, double out[2])
{
    if (!at->on_photo) {
        out[0] = at->left + (at->piece->across - from_left) * at->scale;
        out[1] = at->top + along * at->scale;
        return;
    }
    tdm_strip_way_back(&at->piece->way, along, from_left - 0.5 * at->piece->across, out);
    out[0] = (out[0] - at->left) * at->scale;
    out[1] = (out[1] - at->top) * at->scale;
}

static void line_to(const tdm_strand_place *at, double along, double from_left)
{
    double xy[2];
    to_picture(at, along, from_left, xy);
    cairo_line_to(at->cairo, xy[0], xy[1]);
}

/* Windows by columns with a yes or no each. */
typedef struct field {
    size_t windows, cols;
    double from, window, cell;
    const float *light;   /* either this: the light places, or the dark ones */
    const uint8_t *state; /* or this: places of a state */
    bool dark;
    int wanted;
} field;

static bool is_in(const field *of, size_t place)
{
    if (of->state)
        return of->state[place] == of->wanted;
    return isfinite(of->light[place]) && ((double)of->light[place] >= least_light) != of->dark;
}

static field strand_field(const tdm_strand_map *map, bool dark)
{
    return (field){.windows = map->windows,
                   .cols = map->cols,
                   .from = map->from,
                   .window = map->window,
                   .cell = map->cell,
                   .light = map->light,
                   .dark = dark};
}

static field skip_field(const tdm_skip_map *map, int wanted)
{
    return (field){.windows = map->windows,
                   .cols = map->cols,
                   .from = map->from,
                   .window = map->window,
                   .cell = map->cell,
                   .state = map->state,
                   .wanted = wanted};
}

/* One path of all, so that neighbours leave no seam. */
static void field_path(const tdm_strand_place *at, const field *of)
{
    cairo_new_path(at->cairo);
    for (size_t row = 0; row < of->windows; row++) {
        const double above = of->from + (double)row * of->window, below = above + of->window;
        for (size_t col = 0; col < of->cols; col++) {
            const size_t first = col;
            while (col < of->cols && is_in(of, row * of->cols + col))
                col++;
            if (col == first)
                continue;
            cairo_new_sub_path(at->cairo);
            line_to(at, above, (double)first * of->cell);
            line_to(at, above, (double)col * of->cell);
            line_to(at, below, (double)col * of->cell);
            line_to(at, below, (double)first * of->cell);
            cairo_close_path(at->cairo);
        }
    }
}

void tdm_strand_tint(const tdm_strand_place *at)
{
    if (!at->map)
        return;
    const field dark = strand_field(at->map, true), light = strand_field(at->map, false);
    field_path(at, &dark);
    cairo_set_source_rgba(at->cairo, 0, 0, 0, shade_strength[at->on_photo]);
    cairo_fill(at->cairo);
    field_path(at, &light);
    tdm_pen_tint(at->cairo, tint_strength[at->on_photo]);
}

static void ribbon_path(const tdm_strand_place *at, const tdm_ribbon *ribbon)
{
    const double first = at->map->from + (double)ribbon->first * at->map->window;
    const double last = first + (double)ribbon->windows * at->map->window;
    cairo_new_path(at->cairo);
    line_to(at, first, ribbon->edges[0]);
    for (size_t i = 0; i < ribbon->windows; i++)
        line_to(at, first + ((double)i + 0.5) * at->map->window, ribbon->edges[2 * i]);
    line_to(at, last, ribbon->edges[2 * ribbon->windows - 2]);
    line_to(at, last, ribbon->edges[2 * ribbon->windows - 1]);
    for (size_t i = ribbon->windows; i-- > 0;)
        line_to(at, first + ((double)i + 0.5) * at->map->window, ribbon->edges[2 * i + 1]);
    line_to(at, first, ribbon->edges[1]);
    cairo_close_path(at->cairo);
}

static void ribbon_start(const tdm_strand_place *at, const tdm_ribbon *ribbon)
{
    double tip[2], behind[2];
    const double middle = 0.5 * (ribbon->edges[0] + ribbon->edges[1]);
    if (!isfinite(ribbon->start))
        return;
    to_picture(at, ribbon->start, middle, tip);
    to_picture(at, ribbon->start - 1, middle, behind);
    const double step = hypot(tip[0] - behind[0], tip[1] - behind[1]);
    if (step > 0)
        tdm_pen_start(at->cairo, tip[0], tip[1], (tip[0] - behind[0]) / step, (tip[1] - behind[1]) / step);
}

void tdm_strand_ribbons(const tdm_strand_place *at)
{
    if (!at->map)
        return;
    for (size_t i = 0; i < at->map->ribbon_count; i++) {
        if (at->map->ribbons[i].windows == 0)
            continue;
        ribbon_path(at, &at->map->ribbons[i]);
        tdm_pen_outline(at->cairo, 1);
    }
    for (size_t i = 0; i < at->map->ribbon_count; i++) {
        if (at->map->ribbons[i].windows > 0)
            ribbon_start(at, &at->map->ribbons[i]);
    }
}

void tdm_strand_hatch(const tdm_strand_place *at)
{
    if (!at->judged)
        return;
    const field leave = skip_field(&at->piece->skip, TDM_SKIP_LEAVE);
    field_path(at, &leave);
    tdm_pen_hatch(at->cairo);
}

void tdm_strand_border(const tdm_strand_place *at)
{
    const double length = at->piece->length, middle = 0.5 * at->piece->across;
    enum { STEPS = 200 };
    cairo_new_path(at->cairo);
    for (int side = -1; side <= 1; side += 2) {
        for (int i = 0; i <= STEPS; i++) {
            const double along = length * (side < 0 ? i : STEPS - i) / STEPS;
            line_to(at, along, middle + 0.5 * side * tdm_strip_way_width(&at->piece->way, along));
        }
    }
    cairo_close_path(at->cairo);
    tdm_pen_outline(at->cairo, 1.5);
}

/* A straight piece's own picture as the source, laid where the piece is. */
static void set_hair(const tdm_strand_place *at, cairo_surface_t *hair)
{
    const double times = at->piece->cell * at->scale;
    cairo_pattern_t *pattern = cairo_pattern_create_for_surface(hair);
    cairo_matrix_t matrix;
    cairo_matrix_init_scale(&matrix, -1 / times, 1 / times);
    cairo_matrix_translate(&matrix, -(at->left + at->piece->across * at->scale), -at->top);
    cairo_pattern_set_matrix(pattern, &matrix);
    cairo_pattern_set_filter(pattern, times >= 1 ? CAIRO_FILTER_NEAREST : CAIRO_FILTER_GOOD);
    cairo_set_source(at->cairo, pattern);
    cairo_pattern_destroy(pattern);
}

void tdm_strand_hair(const tdm_strand_place *at, cairo_surface_t *hair)
{
    set_hair(at, hair);
    cairo_paint(at->cairo);
}

void tdm_strand_skip_map(const tdm_strand_place *at, cairo_surface_t *hair, cairo_surface_t *grey)
{
    const field may = skip_field(&at->piece->skip, TDM_SKIP_MAY);
    const field leave = skip_field(&at->piece->skip, TDM_SKIP_LEAVE);
    tdm_pen_dots(at->cairo);
    cairo_save(at->cairo);
    cairo_translate(at->cairo, at->left + at->piece->across * at->scale, at->top);
    cairo_scale(at->cairo, -at->piece->cell * at->scale, at->piece->cell * at->scale);
    cairo_mask_surface(at->cairo, hair, 0, 0);
    cairo_restore(at->cairo);
    if (!at->judged)
        return;
    field_path(at, &may);
    set_hair(at, grey);
    cairo_fill(at->cairo);
    field_path(at, &leave);
    tdm_pen_ground(at->cairo);
}
