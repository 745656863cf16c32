/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Blue lies opposite to every hair's hue, and no usual colour blindness takes it for brown; hatching says the
 * same without colour. */
#include "report/strand_map_pens.h"

static const double tint[3] = {0.22, 0.68, 1.0}, ground[3] = {0.0, 0.30, 0.75};
static const double grey_low = 0.55, grey_span = 0.40; /* hair in grey: lighter than the ground */
static const double start_colour[3] = {1.0, 0.82, 0.0};
enum { HATCH = 8, DOTS = 8 };

void tdm_pen_tint(cairo_t *cairo, double strength)
{
    cairo_set_source_rgba(cairo, tint[0], tint[1], tint[2], strength);
    cairo_fill(cairo);
}

void tdm_pen_outline(cairo_t *cairo, double width)
{
    cairo_set_source_rgb(cairo, 0, 0, 0);
    cairo_set_line_width(cairo, 3 * width);
    cairo_stroke_preserve(cairo);
    cairo_set_source_rgb(cairo, 1, 1, 1);
    cairo_set_line_width(cairo, width);
    cairo_stroke(cairo);
}

void tdm_pen_start(cairo_t *cairo, double x, double y, double dx, double dy)
{
    const double high = 12, half = 6;
    cairo_new_path(cairo);
    cairo_move_to(cairo, x, y);
    cairo_line_to(cairo, x - high * dx - half * dy, y - high * dy + half * dx);
    cairo_line_to(cairo, x - high * dx + half * dy, y - high * dy - half * dx);
    cairo_close_path(cairo);
    cairo_set_source_rgb(cairo, start_colour[0], start_colour[1], start_colour[2]);
    cairo_fill_preserve(cairo);
    cairo_set_source_rgb(cairo, 0, 0, 0);
    cairo_set_line_width(cairo, 1.2);
    cairo_stroke(cairo);
}

/* A small square that is repeated; of a colour or clear between. The pattern is the caller's. */
static cairo_pattern_t *repeated(int side, uint32_t (*pixel)(int x, int y))
{
    cairo_surface_t *tile = cairo_image_surface_create(CAIRO_FORMAT_ARGB32, side, side);
    cairo_surface_flush(tile);
    unsigned char *data = cairo_image_surface_get_data(tile);
    const size_t stride = (size_t)cairo_image_surface_get_stride(tile);
    for (int y = 0; data && y < side; y++) {
        uint32_t *line = (uint32_t *)(void *)(data + (size_t)y * stride);
        for (int x = 0; x < side; x++)
            line[x] = pixel(x, y);
    }
    cairo_surface_mark_dirty(tile);
    cairo_pattern_t *pattern = cairo_pattern_create_for_surface(tile);
    cairo_surface_destroy(tile);
    cairo_pattern_set_extend(pattern, CAIRO_EXTEND_REPEAT);
    cairo_pattern_set_filter(pattern, CAIRO_FILTER_NEAREST);
    return pattern;
}

static const uint32_t white = UINT32_C(0xffffffff), black = UINT32_C(0xff000000);

static uint32_t clear_hatch(int x, int y)
{
    const int place = (x + y) % HATCH;
    return place < 2 ? white : place < 3 ? black : 0;
}

static uint32_t ground_hatch(int x, int y)
{
    return (x + y) % HATCH < 2 ? white : 0;
}

static uint32_t grey_dots(int x, int y)
{
    return x < 3 && y < 3 ? UINT32_C(0xff7a7a7a) : UINT32_C(0xffe2e2e2);
}

/* Keeps the path. */
static void fill_with(cairo_t *cairo, int side, uint32_t (*pixel)(int x, int y))
{
    cairo_pattern_t *pattern = repeated(side, pixel);
    cairo_set_source(cairo, pattern);
    cairo_fill_preserve(cairo);
    cairo_pattern_destroy(pattern);
}

void tdm_pen_ground(cairo_t *cairo)
{
    cairo_set_source_rgb(cairo, ground[0], ground[1], ground[2]);
    cairo_fill_preserve(cairo);
    fill_with(cairo, HATCH, ground_hatch);
    cairo_new_path(cairo);
}

void tdm_pen_hatch(cairo_t *cairo)
{
    fill_with(cairo, HATCH, clear_hatch);
    cairo_new_path(cairo);
}

void tdm_pen_dots(cairo_t *cairo)
{
    cairo_pattern_t *dots = repeated(DOTS, grey_dots);
    cairo_set_source(cairo, dots);
    cairo_pattern_destroy(dots);
}

uint32_t tdm_strand_grey(uint32_t pixel)
{
    /* ITU-R BT.709's weights, on the encoded numbers: a look. */
    const double luma = 0.2126 * (pixel >> 16 & 255) + 0.7152 * (pixel >> 8 & 255) + 0.0722 * (pixel & 255);
    const uint32_t grey = (uint32_t)(255 * grey_low + grey_span * luma + 0.5);
    return pixel == 0 ? 0 : UINT32_C(0xff000000) | grey << 16 | grey << 8 | grey;
}

void tdm_strand_sample(cairo_t *cairo, tdm_strand_sample_kind which, double left, double top, double side)
{
    cairo_rectangle(cairo, left, top, side, side);
    switch (which) {
    case TDM_STRAND_LIGHT:
        cairo_set_source_rgb(cairo, tint[0], tint[1], tint[2]);
        cairo_fill_preserve(cairo);
        break;
    case TDM_STRAND_SKIP:
        tdm_pen_ground(cairo);
        cairo_rectangle(cairo, left, top, side, side);
        break;
    case TDM_STRAND_HATCH:
        fill_with(cairo, HATCH, clear_hatch);
        break;
    case TDM_STRAND_MAY:
        cairo_set_source_rgb(cairo, grey_low + grey_span / 2, grey_low + grey_span / 2,
                             grey_low + grey_span / 2);
        cairo_fill_preserve(cairo);
        break;
    case TDM_STRAND_UNKNOWN:
        fill_with(cairo, DOTS, grey_dots);
        break;
    case TDM_STRAND_RIBBON:
        cairo_new_path(cairo);
        cairo_rectangle(cairo, left + side / 4, top + 1, side / 2, side - 2);
        tdm_pen_outline(cairo, 1);
        return;
    case TDM_STRAND_START:
        cairo_new_path(cairo);
        tdm_pen_start(cairo, left + side / 2, top + side - 2, 0, 1);
        return;
    }
    cairo_set_source_rgb(cairo, 0, 0, 0);
    cairo_set_line_width(cairo, 1);
    cairo_stroke(cairo);
}
